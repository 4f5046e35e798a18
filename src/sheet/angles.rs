//! What is known of the angles that rules ask for: calls, readings, and what they leave open.

use crate::{
    geometry::{Cut, Limit, Side, all_zones, open_zones},
    marks::{Answer, Quantity},
    rulebook::{Angle, Band, BandAmount, Credit, OpenCalls},
    units::{Degrees, Points},
};

use super::{
    scene::{Act, Scene},
    world::{Fact, Question, World},
};

/// How an angle rule came out at one element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outcome {
    /// Whether the target is met.
    pub met: bool,
    /// Whether credit is given as far as this rule goes.
    pub credit: bool,
    /// What it costs.
    pub amount: Points,
}

/// Returns how the rule comes out at exactly this value.
pub fn outcome(rule: &Angle, value: Degrees) -> Outcome {
    let met = rule.limit().holds(value);
    let credit = rule.gates.is_empty() || rule.gate().holds(value);
    let amount = if met { Points::ZERO } else { band_amount(rule, short_by(rule, value)) };
    Outcome { met, credit, amount }
}

/// Returns by how many degrees the value falls short of the target; negative when beyond it.
pub fn short_by(rule: &Angle, value: Degrees) -> f64 {
    let value = rule.rounded(value).0;
    if rule.side.upward() { rule.target.0 - value } else { value - rule.target.0 }
}

/// Adds what is known of every act's angles to the world, and what is open to the questions.
pub fn ask(scene: &Scene<'_>, world: &mut World, questions: &mut Vec<Question>) {
    for (place, act) in scene.acts.iter().enumerate() {
        for quantity in quantities(act) {
            ask_reading(scene, (place, quantity), world, questions);
        }
        for rule in 0..act.angles.len() {
            ask_call(scene, (place, rule), world, questions);
        }
    }
}

/// Returns the quantities that the act's rules ask for, each once.
fn quantities(act: &Act<'_>) -> Vec<Quantity> {
    let mut quantities: Vec<Quantity> = act.angles.iter().map(|rule| rule.quantity).collect();
    quantities.sort_unstable();
    quantities.dedup();
    quantities
}

fn ask_reading(
    scene: &Scene<'_>,
    (place, quantity): (usize, Quantity),
    world: &mut World,
    questions: &mut Vec<Question>,
) {
    let act = &scene.acts[place];
    let Some(reading) = act.readings.get(&quantity) else { return };
    // Rules on one quantity share its reading, so that it is moved for all of them together.
    let rules: Vec<&Angle> = act
        .angles
        .iter()
        .copied()
        .filter(|rule| rule.quantity == quantity && !act.calls.contains_key(rule.id.as_str()))
        .collect();
    let cuts: Vec<Cut> = rules.iter().flat_map(|rule| cuts(rule)).collect();
    let values = open_zones(&cuts, reading.value, reading.u);
    world.take(Fact::Value(place, quantity, reading.value));
    let own = values.iter().position(|value| *value == reading.value).unwrap_or(0);
    let taken = match scene.book.open_calls {
        OpenCalls::AsMeasured => own,
        OpenCalls::ForTheAthlete => kindest(&rules, &values, own),
    };
    let options = values.iter().map(|value| Fact::Value(place, quantity, *value)).collect();
    push(questions, options, taken);
}

fn ask_call(
    scene: &Scene<'_>,
    (place, index): (usize, usize),
    world: &mut World,
    questions: &mut Vec<Question>,
) {
    let act = &scene.acts[place];
    let rule = act.angles[index];
    let reading = act.readings.get(&rule.quantity).map(|reading| reading.value);
    let answer = act.calls.get(rule.id.as_str()).map(|call| call.answer);
    let zones = all_zones(&cuts(rule));
    // What is planned is planned as it should be; what only breaks a
    // series or gates nothing is met until called.
    let gates_credit = rule.gates.iter().any(|credit| *credit != Credit::Connection);
    let presumed = scene.is_planned(place) || !gates_credit;
    let values: Vec<Degrees> = match answer {
        None if reading.is_some() => return,
        Some(Answer::NotMet) => not_met(rule, zones, reading),
        Some(Answer::CantTell) => zones,
        None if !presumed => zones,
        _ => zones.into_iter().filter(|value| rule.limit().holds(*value)).collect(),
    };
    let taken = kindest(&[rule], &values, 0);
    if let Some(value) = values.get(taken) {
        world.take(Fact::Called(place, index, *value));
    }
    let options = values.iter().map(|value| Fact::Called(place, index, *value)).collect();
    push(questions, options, taken);
}

/// Returns the values that a person's "not met" leaves: a reading that agrees settles the band.
fn not_met(rule: &Angle, zones: Vec<Degrees>, reading: Option<Degrees>) -> Vec<Degrees> {
    let failed = |value: &Degrees| {
        let outcome = outcome(rule, *value);
        if rule.gates.is_empty() { !outcome.met } else { !outcome.credit }
    };
    match reading.filter(failed) {
        Some(value) => vec![value],
        None => zones.into_iter().filter(failed).collect(),
    }
}

fn push(questions: &mut Vec<Question>, options: Vec<Fact>, taken: usize) {
    if options.len() > 1 {
        questions.push(Question { options, taken });
    }
}

/// Returns the place of the value that costs the athlete least; of equals the one preferred.
fn kindest(rules: &[&Angle], values: &[Degrees], preferred: usize) -> usize {
    let cost = |value: Degrees| {
        let outcomes = rules.iter().map(|rule| outcome(rule, value));
        outcomes.fold((0, 0, Points::ZERO), |(credit, met, amount), outcome| {
            (
                credit + usize::from(!outcome.credit),
                met + usize::from(!outcome.met),
                amount + outcome.amount,
            )
        })
    };
    let places = 0..values.len();
    places.min_by_key(|place| (cost(values[*place]), *place != preferred)).unwrap_or(0)
}

/// Returns where the rule cuts the axis of its quantity.
fn cuts(rule: &Angle) -> Vec<Cut> {
    let mut limits = vec![rule.limit()];
    if !rule.gates.is_empty() {
        limits.push(rule.gate());
    }
    limits.extend(rule.bands.iter().filter_map(|band| band_end(rule, band)));
    limits.into_iter().map(Cut::at).collect()
}

fn band_end(rule: &Angle, band: &Band) -> Option<Limit> {
    let up_to = band.up_to?.0;
    let side = match (rule.side.upward(), band.inclusive) {
        (true, true) => Side::AtLeast,
        (true, false) => Side::Above,
        (false, true) => Side::AtMost,
        (false, false) => Side::Below,
    };
    let edge = if rule.side.upward() { rule.target.0 - up_to } else { rule.target.0 + up_to };
    Some(rule.unrounded(Limit { edge: Degrees(edge), side }))
}

fn band_amount(rule: &Angle, short: f64) -> Points {
    let ends_at_or_after = |band: &&Band| match band.up_to {
        None => true,
        Some(up_to) if band.inclusive => short <= up_to.0,
        Some(up_to) => short < up_to.0,
    };
    match rule.bands.iter().find(ends_at_or_after) {
        Some(band) if short > band.over.0 || band.over.0 == 0.0 || touches(rule, band) => {
            amount_in(band, short)
        }
        _ => Points::ZERO,
    }
}

/// Returns whether the band begins exactly where the one before it leaves its edge to it.
fn touches(rule: &Angle, band: &Band) -> bool {
    rule.bands.iter().any(|before| before.up_to == Some(band.over) && !before.inclusive)
}

fn amount_in(band: &Band, short: f64) -> Points {
    match (band.amount, band.up_to) {
        (BandAmount::Flat(amount), _) => amount,
        (BandAmount::Proportional { from, to, grid }, Some(up_to)) => {
            let share = (short - band.over.0) / (up_to.0 - band.over.0);
            let exact = from.0 as f64 + share * (to.0 - from.0) as f64;
            Points((exact / grid.0 as f64).round() as i64 * grid.0)
        }
        (BandAmount::Proportional { to, .. }, None) => to,
    }
}
