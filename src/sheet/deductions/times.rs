//! What times and too few elements bring.

use std::collections::BTreeSet;

use crate::{
    marks::At,
    rulebook::{Time, TooFew},
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
    let (groups, void) = (rule.groups.clone(), rule.void && is_taken);
    Some(Charge { groups, void, ..Charge::new(line, timed.act) })
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
    Some(Charge::new(line, None))
}
