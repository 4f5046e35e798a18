//! What angles cost: by the band that a value lies in, or as the judge chose.

use crate::{
    marks::{Mark, What},
    rulebook::Angle,
    sheet::{
        evidence::{
            angle_questions::{settled, suggested},
            decisions::{angle_frames, between, read},
        },
        model::{FrameAt, Line, Status},
        routine::{
            angle_rules::{grid, is_refused, most, short_by},
            scene::Scene,
            world::World,
        },
    },
    units::{Magnitude, Points},
};

use super::charge::Charge;

/// Returns what the act's angles cost in this world.
pub(crate) fn angle_charges(scene: &Scene<'_>, world: &World, act: usize) -> Vec<Charge> {
    (0..scene.acts[act].angles.len())
        .filter_map(|index| angle_charge(scene, world, (act, index)))
        .collect()
}

fn angle_charge(scene: &Scene<'_>, world: &World, (act, index): (usize, usize)) -> Option<Charge> {
    let performed = &scene.acts[act];
    let rule = performed.angles[index];
    let value = world.value(act, index, rule.quantity);
    let chosen = performed.chosen.get(rule.id.as_str());
    let amount = match (chosen, value) {
        (Some((_, amount)), _) => *amount,
        (None, Some(value)) => settled(performed, rule, value).amount,
        (None, None) => return None,
    };
    if amount == Points::ZERO && chosen.is_none() {
        return None;
    }
    let (mark, reason, frames) = match chosen {
        Some((mark, _)) => {
            (*mark, chosen_reason(scene, (act, rule), mark), scene.frames.at(&mark.at))
        }
        None => (
            performed.mark,
            band_reason(scene, (act, rule), value.unwrap_or(rule.target)),
            angle_frames(scene, act, index),
        ),
    };
    let line = line(rule, mark, (amount, reason, frames));
    let (groups, counts) = (rule.groups.clone(), rule.counts);
    Some(Charge { groups, counts, ..Charge::new(line, Some(act)) })
}

fn line(
    rule: &Angle,
    mark: &Mark,
    (amount, reason, frames): (Points, String, Vec<FrameAt>),
) -> Line {
    Line {
        rule: rule.id.clone(),
        label: rule.label.clone(),
        amount,
        status: Status::Taken,
        frames,
        reason,
        page: rule.page.clone(),
        mark: Some(mark.id),
        under: String::new(),
    }
}

fn band_reason(scene: &Scene<'_>, (act, rule): (usize, &Angle), value: Magnitude) -> String {
    let name = scene.name_of(act);
    let target = rule.quantity.write(rule.target);
    let performed = &scene.acts[act];
    let called = performed.calls.contains_key(rule.id.as_str());
    match performed.readings.get(&rule.quantity) {
        Some(reading) if reading.value == value => {
            let short = rule.quantity.write(Magnitude(short_by(rule, value)));
            format!("{name}: {}, {short} short of {target}.", read(reading))
        }
        Some(reading) => {
            format!("{name}: {}; taken as short of {target}.", read(reading))
        }
        None if called => format!("{name}: called not met, short of {target}."),
        None => format!("{name}: taken as short of {target}."),
    }
}

fn chosen_reason(scene: &Scene<'_>, (act, rule): (usize, &Angle), mark: &Mark) -> String {
    let written = match mark.what {
        What::Fault { amount: Some(amount), .. } => amount,
        _ => Points::ZERO,
    };
    let suggests = match suggested(&scene.acts[act], rule) {
        Some(amounts) => format!("the angle suggests {}", between(amounts)),
        None => "no angle suggests an amount".to_owned(),
    };
    let book = outside(rule, written).map_or(String::new(), |said| format!(" {said}"));
    format!("{}: {} was chosen; {suggests}.{book}", scene.name_of(act), written.short())
}

/// Returns what the book says against the amount that was chosen.
fn outside(rule: &Angle, amount: Points) -> Option<String> {
    if amount < Points::ZERO {
        return Some("It is no deduction and is not taken; choose again.".to_owned());
    }
    let most = most(rule).filter(|most| amount > *most);
    if let Some(most) = most {
        return Some(format!("The book takes at most {}.", most.short()));
    }
    let grid = grid(rule).filter(|_| is_refused(rule, amount))?;
    Some(format!("It is not taken: the book chooses in steps of {}. Choose again.", grid.short()))
}
