//! The lines of the elements: what each counts for, and what is still to be decided about it.

use std::collections::BTreeMap;

use crate::{
    geometry::HALF_WIDTH,
    marks::Answer,
    rulebook::{Angle, Element},
    units::Degrees,
};

use super::{
    angles::{outcome, short_by},
    credit::Earned,
    model::{Decision, ElementLine, Requirement, Status},
    parts::Parts,
    scene::Scene,
    world::World,
};

/// Returns one line for every element in order.
pub fn lines(
    scene: &Scene<'_>,
    world: &World,
    earned: &[Earned<'_>],
    parts: &Parts,
    requirements: &[Requirement],
) -> Vec<ElementLine> {
    let partners: BTreeMap<&str, &Element> = scene
        .book
        .elements_of(scene.event)
        .map(|element| (element.pair.as_str(), element))
        .collect();
    (0..scene.acts.len())
        .map(|act| {
            let mark = scene.acts[act].mark;
            let (status, reason) = worth(scene, (act, &earned[act]), parts, &partners);
            let serves = requirements.iter().filter(|line| line.marks.contains(&mark.id));
            ElementLine {
                mark: mark.id,
                element: scene.acts[act].id.to_owned(),
                label: scene.name_of(act).to_owned(),
                class: scene.acts[act].element.map(|e| e.class.clone()).unwrap_or_default(),
                status,
                serves: serves.map(|line| line.id.clone()).collect(),
                frames: scene.frames.at(&mark.at),
                reason,
                decisions: decisions(scene, world, act),
            }
        })
        .collect()
}

fn worth(
    scene: &Scene<'_>,
    (act, earned): (usize, &Earned<'_>),
    parts: &Parts,
    partners: &BTreeMap<&str, &Element>,
) -> (Status, String) {
    let element = scene.acts[act].element;
    if element.is_some_and(|element| element.vault.is_some()) && earned.reason.is_empty() {
        let known = "Known by the turn before the hands, the turn after, and the facing.";
        let said = if scene.acts[act].written { "As written down." } else { known };
        return (Status::Met, said.to_owned());
    }
    if let Some(class) = &parts.fills[act] {
        let name = scene.book.class(class).map_or(class.as_str(), |class| class.name.as_str());
        let own = earned.element.is_some_and(|element| element.class == *class);
        let said = if own { "Counts" } else { "Fills a lower place" };
        return (Status::Met, format!("{said} as a value part, {name}."));
    }
    let partner = element.and_then(|element| partners.get(element.id.as_str()));
    if let Some(partner) = partner {
        return (Status::NotCounted, format!("It makes one value part with {}.", partner.name));
    }
    let never = scene.acts[act].element.is_some_and(|element| element.class.is_empty());
    let no_parts = parts.lines.is_empty();
    match (&earned.reason, earned.part) {
        (_, true) if no_parts => (Status::NotCounted, "No value parts are asked for.".to_owned()),
        (_, true) => (Status::NotCounted, "All places it could fill are taken.".to_owned()),
        (reason, false) if !reason.is_empty() => (Status::Missed, reason.clone()),
        (_, false) if never => (Status::NotCounted, "It is no value part by itself.".to_owned()),
        (_, false) => (Status::Missed, "It earns no credit.".to_owned()),
    }
}

fn decisions(scene: &Scene<'_>, world: &World, act: usize) -> Vec<Decision> {
    (0..scene.acts[act].angles.len()).map(|index| decision(scene, world, act, index)).collect()
}

fn decision(scene: &Scene<'_>, world: &World, place: usize, index: usize) -> Decision {
    let act = &scene.acts[place];
    let rule = act.angles[index];
    let call = act.calls.get(rule.id.as_str()).map(|call| call.answer);
    let reading = act.readings.get(&rule.quantity).map(|reading| (reading.value, reading.u));
    let value = world.value(place, index, rule.quantity);
    let status = match (call, reading, value) {
        (Some(Answer::Met), _, _) => Some(Status::Met),
        (Some(Answer::NotMet), _, _) => Some(Status::Missed),
        (Some(Answer::CantTell), _, _) => Some(Status::Close),
        (None, Some(_), Some(value)) => Some(met_or_missed(rule, value)),
        _ => None,
    };
    Decision {
        rule: rule.id.clone(),
        label: rule.label.clone(),
        quantity: rule.quantity,
        target: rule.target,
        reading,
        status,
        called: call.is_some(),
        reason: reason(rule, call, reading),
    }
}

fn met_or_missed(rule: &Angle, value: Degrees) -> Status {
    if rule.limit().holds(value) { Status::Met } else { Status::Missed }
}

fn reason(rule: &Angle, call: Option<Answer>, reading: Option<(Degrees, Degrees)>) -> String {
    let asked = format!("{} {}", rule.side.words(), rule.target);
    let read = reading.map(|(value, u)| {
        let half = Degrees(HALF_WIDTH * u.0);
        if u.0 > 0.0 { format!("{value} ± {half} read") } else { format!("{value} stated") }
    });
    let short = reading.map_or(String::new(), |(value, _)| match short_by(rule, value) {
        short if short > 0.0 => format!(", {} short", Degrees(short)),
        _ => String::new(),
    });
    let said = call.map(|answer| match answer {
        Answer::Met => "met",
        Answer::NotMet => "not met",
        Answer::CantTell => "can't tell",
    });
    match (said, read) {
        (Some(said), Some(read)) => {
            let other = reading.is_some_and(|(value, _)| outcome(rule, value).met);
            let agrees = (said == "met") == other || said == "can't tell";
            let also = if agrees { "" } else { " They disagree; the call counts." };
            format!("Called {said}; {read}{short}, asked {asked}.{also}")
        }
        (Some(said), None) => format!("Called {said}; asked {asked}."),
        (None, Some(read)) => format!("{read}{short}, asked {asked}."),
        (None, None) => format!("Still to be decided: {asked}?"),
    }
}
