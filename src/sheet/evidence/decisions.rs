//! What is known of each angle that a rule asks for, and what is still waited for, in words.

use crate::{
    marks::{CallAnswer, Reading},
    rulebook::Angle,
    sheet::{
        model::{Decision, FrameAt, Status},
        routine::{
            angle_rules::{leaves_a_choice, outcome, short_by},
            scene::Scene,
            world::World,
        },
    },
    units::{Magnitude, Points},
};

use super::angle_questions::{interval_of, suggested};

/// Returns what is asked of the act's angles, each answered or waiting.
pub(crate) fn decisions(scene: &Scene<'_>, world: &World, act: usize) -> Vec<Decision> {
    (0..scene.acts[act].angles.len()).map(|index| decision(scene, world, act, index)).collect()
}

fn decision(scene: &Scene<'_>, world: &World, place: usize, index: usize) -> Decision {
    let act = &scene.acts[place];
    let rule = act.angles[index];
    let call = act.calls.get(rule.id.as_str()).map(|call| call.answer);
    let reading = act.readings.get(&rule.quantity).copied();
    let value = world.value(place, index, rule.quantity);
    let status = match (call, reading, value) {
        (Some(CallAnswer::Met), _, _) => Some(Status::Met),
        (Some(CallAnswer::NotMet), _, _) => Some(Status::Missed),
        (Some(CallAnswer::CantTell), _, _) => Some(Status::Close),
        (None, Some(_), Some(value)) => Some(met_or_missed(rule, value)),
        _ => None,
    };
    let chosen = act.chosen.get(rule.id.as_str()).map(|(_, amount)| *amount);
    let suggested = suggested(act, rule).filter(|_| leaves_a_choice(rule));
    Decision {
        rule: rule.id.clone(),
        label: rule.label.clone(),
        quantity: rule.quantity,
        target: rule.target,
        reading: reading.map(|reading| (reading.value, reading.u)),
        interval: reading.map(interval_of),
        status,
        called: call.is_some(),
        suggested,
        chosen,
        frames: angle_frames(scene, place, index),
        reason: reason(rule, call, reading) + &choice(suggested, chosen) + &warnings(reading),
        page: rule.page.clone(),
    }
}

fn met_or_missed(rule: &Angle, value: Magnitude) -> Status {
    if rule.limit().holds(value) { Status::Met } else { Status::Missed }
}

/// Returns a reading in words, with its own plus-minus or its uneven interval.
pub(crate) fn read(reading: &Reading) -> String {
    let (unit, value) = (reading.quantity.unit(), reading.value);
    let [low, high] = interval_of(reading);
    let (below, above) = (value.0 - low.0, high.0 - value.0);
    if below == 0.0 && above == 0.0 {
        return format!("{} stated", unit.write(value));
    }
    if (below - above).abs() > UNEVEN * (below + above) {
        let [value, low, high] = [value, low, high].map(|it| unit.write(it));
        return format!("{value} read, in truth {low} to {high}");
    }
    format!("{} read", unit.write_with(value, Magnitude(f64::midpoint(below, above))))
}

/// An interval that reaches farther to one side by this share of its width is told as it is.
const UNEVEN: f64 = 0.1;

fn reason(rule: &Angle, call: Option<CallAnswer>, reading: Option<&Reading>) -> String {
    let asked = rule.asks();
    let short = reading.map_or(String::new(), |reading| match short_by(rule, reading.value) {
        short if short > 0.0 => {
            format!(", {} short", rule.quantity.write(Magnitude(short)))
        }
        _ => String::new(),
    });
    let said = call.map(|answer| match answer {
        CallAnswer::Met => "met",
        CallAnswer::NotMet => "not met",
        CallAnswer::CantTell => "can't tell",
    });
    match (said, reading) {
        (Some(said), Some(reading)) => {
            let other = outcome(rule, reading.value).met;
            let agrees = (said == "met") == other || said == "can't tell";
            let also = if agrees { "" } else { " They disagree; the call counts." };
            format!("Called {said}; {}{short}, asked {asked}.{also}", read(reading))
        }
        (Some(said), None) => format!("Called {said}; asked {asked}."),
        (None, Some(reading)) => format!("{}{short}, asked {asked}.", read(reading)),
        (None, None) => format!("Still to be decided: {asked}?"),
    }
}

fn choice(suggested: Option<[Points; 2]>, chosen: Option<Points>) -> String {
    let suggests = suggested.map(between);
    match (chosen, suggests) {
        (Some(chosen), Some(amounts)) => {
            format!(" {} was chosen; the angle suggests {amounts}.", chosen.short())
        }
        (Some(chosen), None) => format!(" {} was chosen.", chosen.short()),
        (None, Some(amounts)) => format!(" The angle suggests {amounts}; the judge chooses."),
        (None, None) => String::new(),
    }
}

/// Returns an amount, or from the least to the most, in words.
pub(crate) fn between([least, most]: [Points; 2]) -> String {
    if least == most { most.short() } else { format!("{} to {}", least.short(), most.short()) }
}

fn warnings(reading: Option<&Reading>) -> String {
    let warnings = reading.iter().flat_map(|reading| &reading.how.warnings);
    warnings.flat_map(|warning| [" ", warning]).collect()
}

/// Returns the frames on which an angle was called or read, else those of the element.
pub(crate) fn angle_frames(scene: &Scene<'_>, act: usize, index: usize) -> Vec<FrameAt> {
    let act = &scene.acts[act];
    let rule = act.angles[index];
    let called = act.calls.get(rule.id.as_str()).map(|call| &call.at);
    let read = act.readings.get(&rule.quantity).map(|reading| &reading.at);
    scene.frames.at(called.or(read).unwrap_or(&act.mark.at))
}
