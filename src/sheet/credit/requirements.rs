//! Requirements: which elements serve them, and what the missing ones cost.

use std::collections::BTreeSet;

use crate::{
    rulebook::{self, Scoring, Sharing},
    sheet::{
        model::{RequirementLine, Status},
        routine::{angle_rules::outcome, scene::Scene, world::World},
    },
};

use super::{
    apart::{apart, are_named},
    candidates::{Serving, is_in_place},
    earned::Earned,
    one_each::{Wanted, one_each},
};

/// Returns the requirements of the event and division, each settled.
pub(crate) fn requirements(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    scoring: &Scoring,
) -> Vec<RequirementLine> {
    let rules = scene.book.requirements_of(scene.event, scene.division);
    let fits: Vec<Vec<bool>> = rules
        .iter()
        .map(|rule| {
            let serves = |act| serves(scene, world, (act, &earned[act]), rule);
            (0..earned.len()).map(|act| serves(act) && is_in_place(rule, earned, act)).collect()
        })
        .collect();
    let servings: Vec<Serving<'_>> = rules
        .iter()
        .map(|rule| {
            let with =
                (0..earned.len()).map(|act| is_with(scene, world, (act, &earned[act]), rule));
            Serving::new(scene, world, earned, rule, with.collect())
        })
        .collect();
    let served = match scoring.sharing {
        Sharing::Many => apart(&servings, &fits),
        Sharing::One => one_for_each(&servings, &fits, earned),
    };
    let broken = |at: usize| servings[at].broken(scene, &fits[at]);
    served
        .into_iter()
        .enumerate()
        .map(|(at, acts)| line(scene, rules[at], acts, (earned, broken(at))))
        .collect()
}

/// Returns whether the act may serve the requirement.
fn serves(
    scene: &Scene<'_>,
    world: &World,
    (act, earned): (usize, &Earned<'_>),
    rule: &rulebook::Requirement,
) -> bool {
    let Some(element) = earned.element.filter(|_| earned.requirement) else { return false };
    // Where only one of a tag must meet the angles, the others serve without.
    let meets = || rule.asks.iter().all(|asked| meets(scene, world, act, asked));
    is_named(rule, element) && (!rule.with.is_empty() || meets())
}

/// Returns whether the act is the one with a tag that the requirement asks for.
fn is_with(
    scene: &Scene<'_>,
    world: &World,
    (act, earned): (usize, &Earned<'_>),
    rule: &rulebook::Requirement,
) -> bool {
    let Some(element) = earned.element.filter(|_| earned.requirement) else { return false };
    rule.with.iter().any(|tag| element.tags.contains(tag))
        && rule.asks.iter().all(|asked| meets(scene, world, act, asked))
}

/// Returns whether the requirement names the element by id or tag.
pub(crate) fn is_named(rule: &rulebook::Requirement, element: &rulebook::Element) -> bool {
    let named = rule.elements.contains(&element.id)
        || rule.tags.iter().any(|tag| element.tags.contains(tag));
    let excepted = rule.except.iter().any(|tag| element.tags.contains(tag));
    named && !excepted && (rule.classes.is_empty() || rule.classes.contains(&element.class))
}

fn meets(scene: &Scene<'_>, world: &World, act: usize, asked: &str) -> bool {
    let angles = &scene.acts[act].angles;
    let Some(index) = angles.iter().position(|rule| rule.id == asked) else { return true };
    let value = world.value(act, index, angles[index].quantity);
    value.is_none_or(|value| {
        let outcome = outcome(angles[index], value);
        if angles[index].gates.is_empty() { outcome.met } else { outcome.credit }
    })
}

/// Gives out the elements so that each serves one requirement and the missing ones cost least.
fn one_for_each(
    servings: &[Serving<'_>],
    fits: &[Vec<bool>],
    earned: &[Earned<'_>],
) -> Vec<Vec<usize>> {
    let together = |rule: &rulebook::Requirement| {
        let is_apart = servings.iter().any(|other| are_named(rule, other.rule));
        rule.connected || rule.each_tag || !rule.with.is_empty() || is_apart
    };
    let wanted: Vec<Wanted<'_>> = servings
        .iter()
        .zip(fits)
        .map(|(serving, fits)| Wanted {
            rule: serving.rule,
            fits,
            series: together(serving.rule).then(|| serving.all(fits)),
        })
        .collect();
    let mut served = one_each(&wanted, earned);
    let used: BTreeSet<usize> = served.iter().flatten().copied().collect();
    let is_missing =
        |(at, served): &(usize, &mut Vec<usize>)| served.is_empty() && !servings[*at].rule.each;
    for (at, served) in served.iter_mut().enumerate().filter(is_missing) {
        // What is left shows how far a missing requirement came, and no more.
        let left: Vec<bool> =
            (0..earned.len()).map(|act| fits[at][act] && !used.contains(&act)).collect();
        *served = servings[at].best(&left);
        served.truncate((servings[at].rule.count as usize).saturating_sub(1));
    }
    served
}

fn line(
    scene: &Scene<'_>,
    rule: &rulebook::Requirement,
    mut acts: Vec<usize>,
    (earned, broken): (&[Earned<'_>], Option<String>),
) -> RequirementLine {
    acts.sort_unstable();
    let missing = rule.count.saturating_sub(acts.len() as u32);
    let times = if rule.each { i64::from(missing) } else { i64::from(missing > 0) };
    let frames = if missing == 0 {
        acts.iter().flat_map(|act| scene.frames.at(&scene.acts[*act].mark.at)).collect()
    } else {
        scene.frames.span()
    };
    RequirementLine {
        id: rule.id.clone(),
        label: rule.label.clone(),
        status: if missing == 0 { Status::Met } else { Status::Missed },
        amount: rule.price.times(times),
        frames,
        reason: match broken.filter(|_| missing > 0) {
            Some(broken) => broken,
            None => reason(scene, rule, &acts, earned),
        },
        marks: acts.iter().map(|act| scene.acts[*act].mark.id).collect(),
        page: rule.page.clone(),
    }
}

fn reason(
    scene: &Scene<'_>,
    rule: &rulebook::Requirement,
    acts: &[usize],
    earned: &[Earned<'_>],
) -> String {
    let names: Vec<&str> = acts.iter().map(|act| scene.name_of(*act)).collect();
    if acts.len() >= rule.count as usize {
        return format!("Shown by {}.", names.join(" and "));
    }
    let tried = (0..earned.len()).find(|act| {
        let named = scene.acts[*act].element.is_some_and(|element| is_named(rule, element));
        named && !earned[*act].reason.is_empty() && !acts.contains(act)
    });
    match (tried, names.is_empty()) {
        (Some(act), _) => format!("{}: {}", scene.name_of(act), earned[act].reason),
        (None, true) => "No element of the routine shows it.".to_owned(),
        (None, false) => {
            format!("Only {} of {} shown: {}.", acts.len(), rule.count, names.join(" and "))
        }
    }
}
