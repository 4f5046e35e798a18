//! Requirements: which elements serve them, and what the missing ones cost.

use std::collections::BTreeSet;

use crate::{
    marks::What,
    rulebook::{self, Scoring, Sharing},
    units::Points,
};

use super::{
    angles::outcome,
    assign::{all_filled, assign},
    credit::Earned,
    model::{Requirement, Status},
    scene::Scene,
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
            (0..earned.len()).map(|act| serves(scene, world, (act, &earned[act]), rule)).collect()
        })
        .collect();
    let served = match scoring.sharing {
        Sharing::Many => {
            rules.iter().zip(&fits).map(|(rule, fits)| alone(scene, rule, fits, earned)).collect()
        }
        Sharing::One => one_each(scene, &rules, &fits, earned),
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
    is_named(rule, element) && rule.asks.iter().all(|asked| meets(scene, world, act, asked))
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

/// Returns the elements that serve a requirement which shares them with others, at most as many
/// as it takes.
fn alone(
    scene: &Scene<'_>,
    rule: &rulebook::Requirement,
    fits: &[bool],
    earned: &[Earned<'_>],
) -> Vec<usize> {
    let count = rule.count as usize;
    if rule.connected {
        return run(scene, rule, fits, earned);
    }
    let acts = (0..fits.len()).filter(|act| fits[*act]);
    if !rule.distinct {
        return acts.take(count).collect();
    }
    let mut families: BTreeSet<&str> = BTreeSet::new();
    acts.filter(|act| families.insert(family(earned, *act))).take(count).collect()
}

/// Returns the first run of serving elements that follow one another with nothing between and
/// are enough, else the longest.
fn run(
    scene: &Scene<'_>,
    rule: &rulebook::Requirement,
    fits: &[bool],
    earned: &[Earned<'_>],
) -> Vec<usize> {
    let mut best: Vec<usize> = Vec::new();
    let mut run: Vec<usize> = Vec::new();
    let breaks = breaks(scene);
    let broken_after = |act: usize| breaks.contains(&act) || !earned[act].linked;
    let tagged = |act: usize, tags: &[String]| {
        let element = earned[act].element;
        element.is_some_and(|element| tags.iter().any(|tag| element.tags.contains(tag)))
    };
    for (act, fits) in fits.iter().enumerate() {
        if best.len() >= rule.count as usize {
            break;
        }
        let ended = run.last().is_some_and(|last| tagged(*last, &rule.only_last));
        let apart = ended || tagged(act, &rule.only_first);
        let repeated =
            rule.distinct && run.iter().any(|a| family(earned, *a) == family(earned, act));
        if !fits || repeated || apart || act.checked_sub(1).is_some_and(broken_after) {
            run.clear();
        }
        if *fits {
            run.push(act);
        }
        if run.len() > best.len() {
            best.clone_from(&run);
        }
    }
    best.truncate(rule.count as usize);
    best
}

/// Returns the acts after which a stop, a fall or a swing lies.
fn breaks(scene: &Scene<'_>) -> BTreeSet<usize> {
    let breaks = |what: &What| matches!(what, What::Stop | What::Fall | What::Swing);
    let sights = scene.sights.iter().filter(|sight| breaks(&sight.mark.what));
    sights.filter_map(|sight| sight.act).collect()
}

/// Gives out the elements so that each serves one requirement and the missing ones cost least.
fn one_each(
    scene: &Scene<'_>,
    rules: &[&rulebook::Requirement],
    fits: &[Vec<bool>],
    earned: &[Earned<'_>],
) -> Vec<Vec<usize>> {
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
        *served = alone(scene, rules[rule], &left, earned);
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

fn family<'e>(earned: &'e [Earned<'_>], act: usize) -> &'e str {
    earned[act].element.map_or("", |element| element.family.as_str())
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
