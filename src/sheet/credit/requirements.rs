//! Requirements: which elements serve them, and what the missing ones cost.

use crate::{
    rulebook::{self, Scoring},
    sheet::{
        model::{RequirementLine, Status},
        routine::{angle_rules::outcome, scene::Scene, world::World},
    },
};

use super::{
    assign::{Assigned, assign},
    earned::Earned,
    ways::{Serving, are_apart},
};

/// Returns the requirements of the event and division, each settled, and whether nothing else could
/// meet more of them.
pub(crate) fn requirements(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    scoring: &Scoring,
) -> (Vec<RequirementLine>, bool) {
    let rules = scene.book.requirements_of(scene.event, scene.division);
    let acts = || 0..earned.len();
    let serving = |rule: &&'_ rulebook::Requirement| {
        let fits = acts().map(|act| serves(scene, world, (act, &earned[act]), rule)).collect();
        let with = acts().map(|act| is_with(scene, world, (act, &earned[act]), rule)).collect();
        [fits, with]
    };
    let servings: Vec<Serving<'_>> =
        rules.iter().map(|rule| Serving::new(scene, world, earned, rule, serving(rule))).collect();
    let Assigned { served, is_exact } = assign(&servings, scoring.sharing);
    let lines = (0..rules.len()).map(|at| line(scene, (&servings, &served), at, earned)).collect();
    (lines, is_exact)
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
    is_named(rule, element, scene.division) && (!rule.with.is_empty() || meets())
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
pub(crate) fn is_named(
    rule: &rulebook::Requirement,
    element: &rulebook::Element,
    division: &str,
) -> bool {
    let named = rule.elements.contains(&element.id)
        || rule.tags.iter().any(|tag| element.tags.contains(tag));
    let excepted = rule.except.iter().any(|tag| element.tags.contains(tag));
    named
        && !excepted
        && (rule.classes.is_empty()
            || rule.classes.iter().any(|it| it == element.class_in(division)))
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

fn line(
    scene: &Scene<'_>,
    (servings, served): (&[Serving<'_>], &[Vec<usize>]),
    at: usize,
    earned: &[Earned<'_>],
) -> RequirementLine {
    let (serving, mut acts) = (&servings[at], served[at].clone());
    let rule = serving.rule;
    acts.sort_unstable();
    let missing = rule.count.saturating_sub(acts.len() as u32);
    let times = if rule.each { i64::from(missing) } else { i64::from(missing > 0) };
    let frames = if missing == 0 {
        acts.iter().flat_map(|act| scene.frames.at(&scene.acts[*act].mark.at)).collect()
    } else {
        scene.frames.span()
    };
    let why_missing = || given_away(scene, servings, served, at).or_else(|| serving.broken(scene));
    RequirementLine {
        id: rule.id.clone(),
        label: rule.label.clone(),
        status: if missing == 0 { Status::Met } else { Status::Missed },
        amount: rule.price.times(times),
        frames,
        reason: match (missing > 0).then(why_missing).flatten() {
            Some(why) => why,
            None => reason(scene, rule, &acts, earned),
        },
        marks: acts.iter().map(|act| scene.acts[*act].mark.id).collect(),
        page: rule.page.clone(),
    }
}

/// Returns to which requirement went what alone would have met this one; nothing where nothing would.
fn given_away(
    scene: &Scene<'_>,
    servings: &[Serving<'_>],
    served: &[Vec<usize>],
    at: usize,
) -> Option<String> {
    let serving = &servings[at];
    let (alone, _) = serving.nearest(&|_| true);
    if alone.len() < serving.rule.count as usize {
        return None;
    }
    let others = || (0..servings.len()).filter(|other| *other != at && !served[*other].is_empty());
    let names = |acts: &mut dyn Iterator<Item = &usize>| {
        acts.map(|act| scene.name_of(*act)).collect::<Vec<_>>().join(" and ")
    };
    let taken = others().find_map(|other| {
        let taken = names(&mut alone.iter().filter(|act| served[other].contains(act)));
        let label = &servings[other].rule.label;
        (!taken.is_empty()).then(|| format!("{taken} already counted for \"{label}\"."))
    });
    taken.or_else(|| {
        let is_alike = |other: &usize| {
            are_apart(serving.rule, servings[*other].rule)
                && serving.families(&alone) == servings[*other].families(&served[*other])
        };
        let label = &servings[others().find(is_alike)?].rule.label;
        Some(format!("{} would only repeat \"{label}\".", names(&mut alone.iter())))
    })
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
        let named = scene.acts[*act].element;
        let named = named.is_some_and(|element| is_named(rule, element, scene.division));
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
