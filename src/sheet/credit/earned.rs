//! Which credit each element earns, before places are given out.

use std::collections::BTreeMap;

use crate::{
    marks::What,
    rulebook::{Angle, Credit, Element, SameAgain, Scoring},
    sheet::routine::{
        angle_rules::outcome,
        durations,
        scene::{Scene, Sight},
        triggers::triggers,
        world::World,
    },
    units::Magnitude,
};

/// What one element has earned.
#[derive(Clone, Debug)]
pub(crate) struct Earned<'a> {
    /// The element that it counts as; another than performed where the book says what it becomes.
    pub element: Option<&'a Element>,
    /// Whether it may be a value part.
    pub part: bool,
    /// Whether it may serve requirements.
    pub requirement: bool,
    /// Whether it is linked to the element after it.
    pub linked: bool,
    /// Whether it may earn anything at all.
    pub state: State,
    /// Why it lost credit; empty when it did not.
    pub reason: String,
}

/// Whether an element may earn anything at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum State {
    /// It may.
    Open,
    /// It is taken as not shown.
    NotShown,
    /// The book does not know it.
    Unknown,
    /// The division may not use it.
    NotAllowed,
}

/// Returns what every act has earned in this world.
pub(crate) fn credit<'a>(scene: &Scene<'a>, world: &World, scoring: &Scoring) -> Vec<Earned<'a>> {
    let mut earned: Vec<Earned<'a>> =
        (0..scene.acts.len()).map(|act| by_itself(scene, world, act)).collect();
    for sight in scene.sights.iter().filter(|sight| world.stands(sight.mark.id)) {
        removed(scene, world, sight, &mut earned);
    }
    for (act, rule) in durations::lost_by_time(scene, world) {
        lose(&rule.removes, &mut earned[act]);
        earned[act].reason = format!("\"{}\" takes its credit.", rule.label);
    }
    pairs(&mut earned);
    repeats(&mut earned, scoring);
    earned
}

fn by_itself<'a>(scene: &Scene<'a>, world: &World, place: usize) -> Earned<'a> {
    let act = &scene.acts[place];
    let state = match act.element {
        _ if !world.stands(act.mark.id) => State::NotShown,
        None => State::Unknown,
        Some(element) if !scene.book.allowed(element, scene.division) => State::NotAllowed,
        Some(_) => State::Open,
    };
    let open = state == State::Open;
    let mut earned = Earned {
        element: act.element,
        part: open && act.element.is_some_and(|it| !it.class_in(scene.division).is_empty()),
        requirement: open,
        linked: open,
        state,
        reason: match state {
            State::Open => String::new(),
            State::NotShown => "It is taken as not shown.".to_owned(),
            State::Unknown => format!("\"{}\" is not in this book.", act.id),
            State::NotAllowed => "This division may not use it, so it earns no credit.".to_owned(),
        },
    };
    if open {
        gates(scene, world, place, &mut earned);
    }
    earned
}

fn gates<'a>(scene: &Scene<'a>, world: &World, place: usize, earned: &mut Earned<'a>) {
    let act = &scene.acts[place];
    for (index, rule) in act.angles.iter().enumerate() {
        let value = world.value(place, index, rule.quantity);
        let failed = value.is_some_and(|value| !outcome(rule, value).credit);
        if !failed {
            continue;
        }
        if !act.lower.is_empty() {
            return counts_as(scene, world, (place, value), rule, earned);
        }
        lose(&rule.gates, earned);
        let lost = if rule.gates == [Credit::Connection] {
            "breaks the series"
        } else {
            "earns no credit"
        };
        earned.reason = format!("\"{}\" is not met, so it {lost}.", rule.label);
    }
}

/// Makes it count as the first lower element whose own rules are met; where none is, as the last one,
/// without the credit that those take.
fn counts_as<'a>(
    scene: &Scene<'a>,
    world: &World,
    (place, value): (usize, Option<Magnitude>),
    missed: &Angle,
    earned: &mut Earned<'a>,
) {
    let quantity = missed.quantity;
    let mut missed = missed;
    let act = &scene.acts[place];
    let steps = &act.lower;
    for (step, lower) in steps.iter().enumerate() {
        let element = lower.element;
        earned.element = Some(element);
        earned.part = !element.class_in(scene.division).is_empty()
            && scene.book.allowed(element, scene.division);
        earned.reason =
            format!("\"{}\" is not met, so it counts as {}.", missed.label, element.name);
        let fails = |rule: &&&Angle| {
            let index = act.angles.iter().position(|own| own.id == rule.id);
            let own = index.and_then(|index| world.value(place, index, quantity));
            let is_asked = rule.quantity == quantity;
            is_asked && own.or(value).is_some_and(|value| !outcome(rule, value).credit)
        };
        let failed: Vec<&&Angle> = lower.gates.iter().filter(fails).collect();
        let Some(first) = failed.first() else { return };
        missed = first;
        if step + 1 == steps.len() {
            for rule in failed {
                lose(&rule.gates, earned);
            }
            let said = format!("\"{}\" is not met either, so it earns no credit.", missed.label);
            earned.reason = said;
        }
    }
}

fn lose(credits: &[Credit], earned: &mut Earned<'_>) {
    earned.part &= !credits.contains(&Credit::ValuePart);
    earned.requirement &= !credits.contains(&Credit::Requirement);
    earned.linked &= !credits.contains(&Credit::Connection);
}

/// Takes the credit that a spot, a fall or another mark at the element removes.
fn removed(scene: &Scene<'_>, world: &World, sight: &Sight<'_>, earned: &mut [Earned<'_>]) {
    let Some(earned) = sight.act.and_then(|act| earned.get_mut(act)) else { return };
    let mut lost = |removes: &[Credit], label: &str| {
        if !removes.is_empty() {
            lose(removes, earned);
            earned.reason = format!("\"{label}\" takes its credit.");
        }
    };
    if let What::Fault { fault, .. } = &sight.mark.what {
        if let Some(fault) = scene.faults.get(fault.as_str()) {
            lost(&fault.removes, &fault.label);
        }
        return;
    }
    for when in scene.whens.iter().filter(|when| triggers(scene, world, sight, when)) {
        lost(&when.removes, &when.label);
    }
}

/// Leaves the credit of a pair only where its two elements stand beside each other.
fn pairs(earned: &mut [Earned<'_>]) {
    let mut used = vec![false; earned.len()];
    for place in 0..earned.len() {
        let Some(element) = earned[place].element.filter(|element| !element.pair.is_empty()) else {
            continue;
        };
        let beside = [place.checked_add(1), place.checked_sub(1)];
        let partner = beside.into_iter().flatten().find(|other| {
            earned.get(*other).is_some_and(|other| {
                other.state != State::NotShown
                    && other.element.is_some_and(|other| other.id == element.pair)
            }) && !used[*other]
        });
        match partner {
            Some(partner) => used[partner] = true,
            None if earned[place].part => {
                earned[place].part = false;
                earned[place].reason = format!(
                    "It counts only together with \"{}\", which does not stand beside it.",
                    element.pair
                );
            }
            None => {}
        }
    }
}

/// Leaves the credit as a value part to the first performances of the same element, as often as
/// the book says and where it says.
fn repeats(earned: &mut [Earned<'_>], scoring: &Scoring) {
    let mut seen: BTreeMap<String, Vec<[String; 2]>> = BTreeMap::new();
    for act in 0..earned.len() {
        let Some(element) = earned[act].element.filter(|_| earned[act].part) else { continue };
        let beside = beside(earned, act);
        let before = seen.entry(element.family.clone()).or_default();
        let again = scoring.same_again == SameAgain::OtherConnection && before.contains(&beside);
        let refused = if before.len() >= scoring.same_counts as usize {
            "The same element was counted before."
        } else if again {
            "The same element was counted before between the same two elements."
        } else {
            before.push(beside);
            continue;
        };
        earned[act].part = false;
        refused.clone_into(&mut earned[act].reason);
    }
}

/// Returns the families of the elements before and after the act; empty where there is none.
fn beside(earned: &[Earned<'_>], act: usize) -> [String; 2] {
    let shown = |other: &&Earned<'_>| other.state != State::NotShown;
    let family = |other: Option<&Earned<'_>>| {
        other.and_then(|other| other.element).map(|element| element.family.clone())
    };
    let before = family(earned[..act].iter().rev().find(shown));
    let after = family(earned[act + 1..].iter().find(shown));
    [before, after].map(Option::unwrap_or_default)
}
