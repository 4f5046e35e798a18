//! Requirements: which elements serve them, and what the missing ones cost.

use std::collections::BTreeSet;

use crate::{
    rulebook::{self, Scoring, Sharing},
    units::Points,
};

use super::{
    angles::outcome,
    assign::{all_filled, assign},
    credit::Earned,
    model::{Requirement, Status},
    scene::Scene,
    serving::{Serving, apart, family, is_in_place},
    world::World,
};

/// More requirements than this are not tried in every combination where each element serves one.
const TRIED_IN_FULL: usize = 12;

/// Returns the requirements of the event and division, each settled.
pub fn requirements(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    scoring: &Scoring,
) -> Vec<Requirement> {
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
        Sharing::One => one_each(&servings, &fits, earned),
    };
    rules.iter().zip(served).map(|(rule, acts)| line(scene, rule, acts, earned)).collect()
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
pub fn is_named(rule: &rulebook::Requirement, element: &rulebook::Element) -> bool {
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
fn one_each(
    servings: &[Serving<'_>],
    fits: &[Vec<bool>],
    earned: &[Earned<'_>],
) -> Vec<Vec<usize>> {
    let rules: Vec<&rulebook::Requirement> = servings.iter().map(|it| it.rule).collect();
    let places: Vec<usize> = (0..rules.len())
        .flat_map(|rule| std::iter::repeat_n(rule, rules[rule].count as usize))
        .collect();
    let first: Vec<Vec<bool>> =
        (0..rules.len()).map(|rule| firsts(rules[rule], &fits[rule], earned)).collect();
    let of = |wanted: &dyn Fn(usize) -> bool| -> (Vec<usize>, Vec<Vec<bool>>) {
        let taken: Vec<usize> = places.iter().copied().filter(|rule| wanted(*rule)).collect();
        let rows = taken.iter().map(|rule| first[*rule].clone()).collect();
        (taken, rows)
    };
    // A requirement of several elements is worth something only as a whole, so the sets of
    // requirements are tried from the dearest down; the first that can be filled is the best.
    let best = if rules.len() <= TRIED_IN_FULL {
        let mut sets: Vec<u32> = (0..1_u32 << rules.len()).collect();
        let price = |set: u32| -> Points {
            (0..rules.len()).filter(|rule| set >> rule & 1 == 1).map(|rule| rules[rule].price).sum()
        };
        sets.sort_by_key(|set| (std::cmp::Reverse(price(*set)), *set));
        sets.into_iter().find(|set| all_filled(&of(&|rule| set >> rule & 1 == 1).1)).unwrap_or(0)
    } else {
        u32::MAX
    };
    let (taken, rows) = of(&|rule| rule >= 32 || best >> rule & 1 == 1);
    let worth: Vec<i64> = taken.iter().map(|rule| rules[*rule].price.0).collect();
    let mut served = vec![Vec::new(); rules.len()];
    for (place, act) in assign(&rows, &worth).into_iter().enumerate() {
        served[taken[place]].extend(act);
    }
    let used: Vec<usize> = served.iter().flatten().copied().collect();
    for (rule, served) in served.iter_mut().enumerate().filter(|(_, served)| served.is_empty()) {
        // What is left shows how far a missing requirement came.
        let left: Vec<bool> =
            (0..earned.len()).map(|act| first[rule][act] && !used.contains(&act)).collect();
        *served = servings[rule].best(&left);
    }
    served
}

/// Returns the acts that may serve, of the same element only the first.
fn firsts(rule: &rulebook::Requirement, fits: &[bool], earned: &[Earned<'_>]) -> Vec<bool> {
    let mut families: BTreeSet<&str> = BTreeSet::new();
    (0..fits.len())
        .map(|act| fits[act] && (families.insert(family(earned, act)) || !rule.distinct))
        .collect()
}

fn line(
    scene: &Scene<'_>,
    rule: &rulebook::Requirement,
    mut acts: Vec<usize>,
    earned: &[Earned<'_>],
) -> Requirement {
    acts.sort_unstable();
    let missing = rule.count.saturating_sub(acts.len() as u32);
    let times = if rule.each { i64::from(missing) } else { i64::from(missing > 0) };
    let frames = if missing == 0 {
        acts.iter().flat_map(|act| scene.frames.at(&scene.acts[*act].mark.at)).collect()
    } else {
        scene.frames.span()
    };
    Requirement {
        id: rule.id.clone(),
        label: rule.label.clone(),
        status: if missing == 0 { Status::Met } else { Status::Missed },
        amount: rule.price.times(times),
        frames,
        reason: reason(scene, rule, &acts, earned),
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
