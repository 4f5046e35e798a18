//! What times, too few elements and bonuses bring.

use std::collections::BTreeSet;

use crate::{
    marks::At,
    rulebook::{Bonus, Counts, Time, TooFew},
    sheet::{
        credit::earned::{Earned, State},
        model::{Line, Status, remark},
        routine::{
            durations::{Breach, Timed, timed},
            scene::Scene,
            world::World,
        },
    },
    units::Points,
};

use super::charge::Charge;

/// Returns what was too long or too short; what has no span is not timed.
pub(crate) fn times(scene: &Scene<'_>, world: &World) -> Vec<Charge> {
    let mut charges = Vec::new();
    for rule in scene.book.times_of(scene.event, scene.division) {
        let takes = rule.void || rule.amount > Points::ZERO;
        for timed in timed(scene, world, rule).iter().filter(|_| takes) {
            charges.extend(time_charge(scene, rule, timed));
        }
    }
    charges
}

fn time_charge(scene: &Scene<'_>, rule: &Time, timed: &Timed) -> Option<Charge> {
    let seconds = |limit: i64| Points(limit).short();
    let (status, said) = match timed.against(rule)? {
        Breach::Short(limit) => (Status::Taken, format!("at least {} s are asked", seconds(limit))),
        Breach::Long(limit) => (Status::Taken, format!("at most {} s are asked", seconds(limit))),
        Breach::Warned(limit) => {
            let warning = format!("the warning comes after {} s; nothing is taken", seconds(limit));
            (Status::NotCounted, warning)
        }
    };
    let is_taken = status == Status::Taken;
    let reason = format!("It lasted {:.2} s, and {said}.", timed.seconds());
    let [from, to] = timed.ends;
    let frames = scene.frames.at(&At::Span(from, to));
    let line = remark((&rule.id, &rule.label), reason, frames, timed.mark);
    let amount = if is_taken { rule.amount } else { Points::ZERO };
    let line = Line { amount, status, page: rule.page.clone(), ..line };
    let (act, group) = (timed.act, rule.group.clone());
    Some(Charge { line, act, group, counts: Counts::Each, void: rule.void && is_taken })
}

/// Returns what too few different elements cost.
pub(crate) fn too_few(scene: &Scene<'_>, earned: &[Earned<'_>]) -> Vec<Charge> {
    let rules = scene.book.too_few_of(scene.event, scene.division);
    if rules.is_empty() {
        return Vec::new();
    }
    let open = earned.iter().filter(|earned| earned.state == State::Open);
    let families: BTreeSet<&str> =
        open.filter_map(|earned| earned.element).map(|element| element.family.as_str()).collect();
    let count = families.len() as u32;
    rules.into_iter().filter_map(|rule| too_few_charge(scene, rule, count)).collect()
}

fn too_few_charge(scene: &Scene<'_>, rule: &TooFew, count: u32) -> Option<Charge> {
    let step = rule.steps.iter().rfind(|step| count < step.below)?;
    let reason = format!("{count} different elements; fewer than {}.", step.below);
    let line = remark((&rule.id, &rule.label), reason, scene.frames.span(), None);
    let page = rule.page.clone();
    let line = Line { amount: step.amount, status: Status::Taken, page, ..line };
    Some(Charge { line, act: None, group: String::new(), counts: Counts::Each, void: false })
}

/// Returns what adds to the score, as lines that take a negative amount.
pub(crate) fn bonuses(scene: &Scene<'_>, earned: &[Earned<'_>], charges: &[Charge]) -> Vec<Line> {
    let rules = scene.book.bonuses_of(scene.event, scene.division);
    rules.into_iter().flat_map(|rule| bonus(scene, earned, charges, rule)).collect()
}

fn bonus(scene: &Scene<'_>, earned: &[Earned<'_>], charges: &[Charge], rule: &Bonus) -> Vec<Line> {
    if !rule.fact.is_empty() {
        return by_fact(scene, rule).into_iter().collect();
    }
    let lost: BTreeSet<Option<usize>> = charges
        .iter()
        .filter(|charge| rule.unless.contains(&charge.line.rule))
        .filter(|charge| charge.line.status == Status::Taken)
        .map(|charge| charge.act)
        .collect();
    let earns = |act: &usize| {
        let credited = earned[*act].element.is_some_and(|element| {
            rule.elements.contains(&element.id)
                || rule.tags.iter().any(|tag| element.tags.contains(tag))
        });
        credited && earned[*act].requirement && !lost.contains(&Some(*act))
    };
    let mut families: BTreeSet<&str> = BTreeSet::new();
    (0..earned.len())
        .filter(earns)
        .filter(|act| {
            earned[*act].element.is_some_and(|element| families.insert(element.family.as_str()))
        })
        .take(rule.at_most as usize)
        .map(|act| bonus_line(scene, rule, act))
        .collect()
}

/// Returns the bonus for a fact of the attempt, where it is as the rule asks.
fn by_fact(scene: &Scene<'_>, rule: &Bonus) -> Option<Line> {
    let value = scene.sheaf.routine.facts.get(&rule.fact)?;
    if !rule.is.is_empty() && !rule.is.contains(value) {
        return None;
    }
    let reason = format!("The {} is given as \"{value}\".", rule.fact);
    let line = remark((&rule.id, &rule.label), reason, scene.frames.span(), None);
    let page = rule.page.clone();
    Some(Line { amount: Points(-rule.amount.0), status: Status::Taken, page, ..line })
}

fn bonus_line(scene: &Scene<'_>, rule: &Bonus, act: usize) -> Line {
    let mark = scene.acts[act].mark;
    let reason = format!("{} adds it.", scene.name_of(act));
    let frames = scene.frames.at(&mark.at);
    let line = remark((&rule.id, &rule.label), reason, frames, Some(mark.id));
    let page = rule.page.clone();
    Line { amount: Points(-rule.amount.0), status: Status::Taken, page, ..line }
}
