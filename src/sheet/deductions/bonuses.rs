//! What adds to the score: bonuses and connections.

use std::collections::BTreeSet;

use crate::{
    rulebook::Bonus,
    sheet::{
        credit::{connections::connections, earned::Earned},
        model::{Line, Status, remark},
        routine::{scene::Scene, world::World},
    },
    units::Points,
};

use super::charge::Charge;

/// Returns what adds to the score, as lines that take a negative amount, and whether every way of giving
/// connections was tried.
pub(crate) fn bonuses(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    charges: &[Charge],
) -> (Vec<Line>, bool) {
    let rules = scene.book.bonuses_of(scene.event, scene.division).into_iter();
    let bonuses = rules.flat_map(|rule| bonus(scene, earned, charges, rule));
    let (connections, is_exact) = connections(scene, world, earned);
    let mut lines: Vec<Line> = bonuses.chain(connections).collect();
    lines.extend(over_limit(scene, &lines));
    (lines, is_exact)
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

/// Returns the line that takes back what they add together above the lowest limit.
fn over_limit(scene: &Scene<'_>, bonuses: &[Line]) -> Option<Line> {
    let rules = scene.book.bonus_limits_of(scene.event, scene.division).into_iter();
    let rule = rules.min_by_key(|rule| rule.at_most)?;
    let taken: Points = bonuses.iter().map(|line| line.amount).sum();
    let added = Points(-taken.0);
    if added <= rule.at_most {
        return None;
    }
    let (added_says, most_says) = (added.short(), rule.at_most.short());
    let reason = format!("Together they add {added_says}, and at most {most_says} counts.");
    let line = remark((&rule.id, &rule.label), reason, scene.frames.span(), None);
    let amount = added - rule.at_most;
    Some(Line { amount, status: Status::Taken, page: rule.page.clone(), ..line })
}

fn bonus_line(scene: &Scene<'_>, rule: &Bonus, act: usize) -> Line {
    let mark = scene.acts[act].mark;
    let reason = format!("{} adds it.", scene.name_of(act));
    let frames = scene.frames.at(&mark.at);
    let line = remark((&rule.id, &rule.label), reason, frames, Some(mark.id));
    let page = rule.page.clone();
    Line { amount: Points(-rule.amount.0), status: Status::Taken, page, ..line }
}
