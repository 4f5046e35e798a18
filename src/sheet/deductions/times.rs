//! What times, too few elements and bonuses bring.

use std::collections::BTreeSet;

use crate::{
    marks::{At, What},
    rulebook::{Bonus, Counts, Time, TimeOf, TooFew},
    sheet::{
        credit::earned::{Earned, State},
        evidence::world::World,
        model::{Line, Status},
        routine::scene::Scene,
    },
    units::{FrameRef, Points, Ticks, TimeBase},
};

use super::charges::{Charge, remark};

/// Returns what was too long or too short; what has no span is not timed.
pub(crate) fn times(scene: &Scene<'_>, world: &World) -> Vec<Charge> {
    let Some(base) = scene.sheaf.clip.as_ref().map(|clip| clip.time_base) else {
        return Vec::new();
    };
    let mut charges = Vec::new();
    for rule in scene.book.times_of(scene.event, scene.division) {
        let takes = rule.void || rule.amount > Points::ZERO;
        for timed in timed(scene, world, rule).into_iter().filter(|_| takes) {
            charges.extend(time_charge(scene, base, rule, timed));
        }
    }
    charges
}

/// Returns the elements that lose credit because they were too long or too short, each with its
/// rule.
pub(crate) fn lost_by_time<'a>(scene: &Scene<'a>, world: &World) -> Vec<(usize, &'a Time)> {
    let Some(base) = scene.sheaf.clip.as_ref().map(|clip| clip.time_base) else {
        return Vec::new();
    };
    let rules = scene.book.times_of(scene.event, scene.division).into_iter();
    let mut lost = Vec::new();
    for rule in rules.filter(|rule| !rule.removes.is_empty()) {
        let broken = |timed: &Timed| time_charge(scene, base, rule, *timed).is_some();
        let acts = timed(scene, world, rule).into_iter().filter(broken);
        lost.extend(acts.filter_map(|timed| Some((timed.act?, rule))));
    }
    lost
}

/// Something that has a beginning and an end.
#[derive(Clone, Copy)]
struct Timed {
    ends: [FrameRef; 2],
    act: Option<usize>,
    mark: Option<crate::marks::Id>,
}

fn timed(scene: &Scene<'_>, world: &World, rule: &Time) -> Vec<Timed> {
    let span = |at: &At| match at {
        At::Span(from, to) => Some([*from, *to]),
        _ => None,
    };
    let sights = |wanted: What| -> Vec<Timed> {
        let stand = scene.sights.iter().filter(|sight| world.stands(sight.mark.id));
        stand
            .filter(|sight| sight.mark.what == wanted)
            .filter_map(|sight| {
                let (act, mark) = (sight.act, Some(sight.mark.id));
                Some(Timed { ends: span(&sight.mark.at)?, act, mark })
            })
            .collect()
    };
    match &rule.of {
        TimeOf::Exercise => {
            let ends = scene.sheaf.routine.span;
            ends.into_iter().map(|ends| Timed { ends, act: None, mark: None }).collect()
        }
        TimeOf::Fall => sights(What::Fall),
        TimeOf::Stop => sights(What::Stop),
        TimeOf::Element { elements, tags } => (0..scene.acts.len())
            .filter(|act| is_one_of(scene, *act, elements, tags))
            .filter_map(|act| {
                let mark = scene.acts[act].mark;
                let ends = span(&mark.at)?;
                world.stands(mark.id).then_some(Timed { ends, act: Some(act), mark: Some(mark.id) })
            })
            .collect(),
    }
}

fn is_one_of(scene: &Scene<'_>, act: usize, elements: &[String], tags: &[String]) -> bool {
    scene.acts[act].element.is_some_and(|element| {
        elements.contains(&element.id) || tags.iter().any(|tag| element.tags.contains(tag))
    })
}

fn time_charge(scene: &Scene<'_>, base: TimeBase, rule: &Time, timed: Timed) -> Option<Charge> {
    let lasted = Ticks(timed.ends[1].ticks.0 - timed.ends[0].ticks.0);
    let against = |limit: i64| thousandths(base, lasted).cmp(&scaled(base, limit));
    let short = rule.at_least.filter(|limit| against(*limit).is_lt());
    let long = rule.at_most.filter(|limit| against(*limit).is_gt());
    let warned = rule.warn_at.filter(|limit| against(*limit).is_gt());
    let seconds = |limit: i64| Points(limit).short();
    let (status, said) = match (short, long, warned) {
        (Some(limit), _, _) => (Status::Taken, format!("at least {} s are asked", seconds(limit))),
        (_, Some(limit), _) => (Status::Taken, format!("at most {} s are asked", seconds(limit))),
        (_, _, Some(limit)) => {
            let warning = format!("the warning comes after {} s; nothing is taken", seconds(limit));
            (Status::NotCounted, warning)
        }
        (None, None, None) => return None,
    };
    let is_taken = status == Status::Taken;
    let reason = format!("It lasted {:.2} s, and {said}.", base.seconds(lasted));
    let [from, to] = timed.ends;
    let frames = scene.frames.at(&At::Span(from, to));
    let line = remark((&rule.id, &rule.label), reason, frames, timed.mark);
    let amount = if is_taken { rule.amount } else { Points::ZERO };
    let line = Line { amount, status, page: rule.page.clone(), ..line };
    let (act, group) = (timed.act, rule.group.clone());
    Some(Charge { line, act, group, counts: Counts::Each, void: rule.void && is_taken })
}

/// Returns a length and a limit in one unit, so that they are compared without a float.
pub(crate) fn thousandths(base: TimeBase, lasted: Ticks) -> i128 {
    i128::from(lasted.0) * i128::from(base.parts()[0]) * 1000
}

/// Returns a limit in the unit of [`thousandths`].
pub(crate) fn scaled(base: TimeBase, milliseconds: i64) -> i128 {
    i128::from(milliseconds) * i128::from(base.parts()[1])
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
