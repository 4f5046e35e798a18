//! Changing a drawn routine a little, to find another in which the same row acts.

use crate::{marks::What, rulebook::Element};

use super::{
    chance::Chance,
    draw::Draw,
    ingredients::Ingredients,
    plan::{Plan, Step},
};

/// Returns the routine with one to four changes.
pub(super) fn changed(chance: &mut Chance, from: &Ingredients<'_>, plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for _ in 0..=chance.below(4) {
        change(chance, from, &mut plan);
    }
    plan
}

fn change(chance: &mut Chance, from: &Ingredients<'_>, plan: &mut Plan) {
    let at = chance.below(plan.steps.len());
    let to = chance.below(plan.steps.len() + 1);
    let near = &from.elements[..from.near.min(from.elements.len())];
    match chance.below(14) {
        _ if plan.steps.is_empty() => insert(chance, from, (plan, 0), near),
        0 | 1 => {
            plan.steps.remove(at);
        }
        2 => {
            let again = plan.steps[at].clone();
            plan.steps.insert(to, again);
        }
        3 => {
            let moved = plan.steps.remove(at);
            plan.steps.insert(to.min(plan.steps.len()), moved);
        }
        4 => insert(chance, from, (plan, to), near),
        5 => insert(chance, from, (plan, to), &from.all),
        6 => insert(chance, from, (plan, to), &from.links),
        7 => {
            let mut draw = Draw::new(chance, from);
            draw.taken(4);
            plan.steps.splice(to..to, draw.steps);
        }
        8 => {
            let breaks = [What::Fall, What::Stop, What::Spot, What::Swing];
            let what = breaks[chance.below(4)].clone();
            plan.steps.insert(to, Step { what, lasts: 0, gap: 0, read: Vec::new() });
        }
        9 => {
            let is_clean = chance.once_in(2);
            plan.steps.retain(|step| !is_clean || !matches!(step.what, What::Fault { .. }));
            plan.steps.retain(|step| {
                is_clean || matches!(step.what, What::Element { .. } | What::Fault { .. })
            });
        }
        10 | 11 => {
            let element = match &plan.steps[at].what {
                What::Element { element } => from.element(element),
                _ => None,
            };
            if let Some(element) = element {
                plan.steps[at].read = Draw::new(chance, from).read_of(element);
            }
        }
        12 => {
            let gap = chance.pick(&from.gaps).copied().unwrap_or_default();
            let lasts = chance.pick(&from.times).copied().unwrap_or_default();
            let step = &mut plan.steps[at];
            if chance.once_in(2) { step.gap = gap } else { step.lasts = lasts.min(60_000) }
        }
        _ => {
            let mut draw = Draw::new(chance, from);
            (plan.facts, plan.end) = (draw.facts(), draw.end());
        }
    }
}

/// Puts one of the elements into the routine at the place.
fn insert(
    chance: &mut Chance,
    from: &Ingredients<'_>,
    (plan, at): (&mut Plan, usize),
    elements: &[&Element],
) {
    let Some(element) = chance.pick(elements).copied() else { return };
    let mut draw = Draw::new(chance, from);
    draw.element(element, 3);
    plan.steps.splice(at..at, draw.steps);
}
