//! What is known of the angles that rules ask for: calls, readings, and what they leave open.

use crate::{
    geometry::{Cut, all_zones, interval, open_zones},
    marks::{CallAnswer, Quantity, Reading},
    rulebook::{Angle, Credit, OpenCalls},
    sheet::routine::{
        angle_rules::{Outcome, cuts, outcome},
        scene::{Act, Scene},
        world::{Fact, Question, World},
    },
    units::{Magnitude, Points},
};

/// Adds what is known of every act's angles to the world, and what is open to the questions.
pub(crate) fn ask(scene: &Scene<'_>, world: &mut World, questions: &mut Vec<Question>) {
    for (place, act) in scene.acts.iter().enumerate() {
        for quantity in quantities(act) {
            ask_reading(scene, (place, quantity), world, questions);
        }
        for rule in 0..act.angles.len() {
            ask_call(scene, (place, rule), world, questions);
        }
    }
}

/// Returns the 95 % interval of a reading: its own where it was measured, else by its
/// uncertainty.
pub(crate) fn interval_of(reading: &Reading) -> [Magnitude; 2] {
    let holds = |[low, high]: &[Magnitude; 2]| *low <= reading.value && reading.value <= *high;
    reading.how.interval.filter(holds).unwrap_or_else(|| interval(reading.value, reading.u))
}

/// Returns the least and the most that the rule may cost by what is known, where it leaves the
/// amount to be chosen along a band and more than nothing comes of it.
pub(crate) fn suggested(act: &Act<'_>, rule: &Angle) -> Option<[Points; 2]> {
    let amounts = values(act, rule).into_iter().map(|value| outcome(rule, value).amount);
    let (least, most) = (amounts.clone().min()?, amounts.max()?);
    (most > Points::ZERO).then_some([least, most])
}

fn values(act: &Act<'_>, rule: &Angle) -> Vec<Magnitude> {
    let reading = act.readings.get(&rule.quantity).copied();
    match (act.calls.get(rule.id.as_str()).map(|call| call.answer), reading) {
        (Some(CallAnswer::NotMet), reading) => {
            not_met(rule, all_zones(&cuts(rule)), reading.map(|reading| reading.value))
        }
        (None, Some(reading)) => open_zones(&cuts(rule), reading.value, interval_of(reading)),
        _ => Vec::new(),
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
    let below = act.gates_below(quantity);
    let cuts: Vec<Cut> = rules.iter().chain(&below).flat_map(|rule| cuts(rule)).collect();
    let values = open_zones(&cuts, reading.value, interval_of(reading));
    let values = unlike(act, &rules, values, Some(reading.value));
    world.take(Fact::Value(place, quantity, reading.value));
    let own = values.iter().position(|value| *value == reading.value).unwrap_or(0);
    let taken = match scene.book.open_calls {
        OpenCalls::AsMeasured => own,
        OpenCalls::ForTheAthlete => kindest(act, &rules, &values, own),
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
    if answer.is_none() && reading.is_some() {
        return;
    }
    let below = act.gates_below(rule.quantity);
    let all_cuts: Vec<Cut> = below.iter().chain([&rule]).flat_map(|rule| cuts(rule)).collect();
    let zones = all_zones(&all_cuts);
    // What is planned is planned as it should be; what only breaks a
    // series or gates nothing is met until called.
    let gates_credit = rule.gates.iter().any(|credit| *credit != Credit::Connection);
    let presumed = scene.is_planned(place) || !gates_credit;
    let values: Vec<Magnitude> = match answer {
        Some(CallAnswer::NotMet) => not_met(rule, zones, reading),
        Some(CallAnswer::CantTell) => zones,
        None if !presumed => zones,
        _ => zones.into_iter().filter(|value| rule.limit().holds(*value)).collect(),
    };
    let values = unlike(act, &[rule], values, None);
    let taken = kindest(act, &[rule], &values, 0);
    if let Some(value) = values.get(taken) {
        world.take(Fact::Called(place, index, *value));
    }
    let options = values.iter().map(|value| Fact::Called(place, index, *value)).collect();
    push(questions, options, taken);
}

/// Returns the values that a person's "not met" leaves: a reading that agrees settles the band.
fn not_met(rule: &Angle, zones: Vec<Magnitude>, reading: Option<Magnitude>) -> Vec<Magnitude> {
    let failed = |value: &Magnitude| {
        let outcome = outcome(rule, *value);
        if rule.gates.is_empty() { !outcome.met } else { !outcome.credit }
    };
    match reading.filter(failed) {
        Some(value) => vec![value],
        None => zones.into_iter().filter(failed).collect(),
    }
}

/// How an element's own rules come out, and which of what it may count as keep their credit.
type Comes = (Vec<Outcome>, Vec<bool>);

/// Leaves one value of those that come out alike under all rules; of equals the one preferred.
fn unlike(
    act: &Act<'_>,
    rules: &[&Angle],
    values: Vec<Magnitude>,
    preferred: Option<Magnitude>,
) -> Vec<Magnitude> {
    let mut kept: Vec<(Comes, Magnitude)> = Vec::new();
    for value in values {
        let own = rules.iter().map(|rule| settled(act, rule, value)).collect();
        let outcomes = (own, credit_below(act, rules, value));
        match kept.iter_mut().find(|(known, _)| *known == outcomes) {
            Some(known) if preferred == Some(value) => known.1 = value,
            Some(_) => {}
            None => kept.push((outcomes, value)),
        }
    }
    kept.into_iter().map(|(_, value)| value).collect()
}

/// Returns how the rule comes out, with the amount that the judge chose where one was chosen.
pub(crate) fn settled(act: &Act<'_>, rule: &Angle, value: Magnitude) -> Outcome {
    let outcome = outcome(rule, value);
    match act.chosen.get(rule.id.as_str()) {
        Some((_, amount)) => Outcome { amount: *amount, ..outcome },
        None => outcome,
    }
}

/// Returns which of the rules of what the element may count as keep their credit.
fn credit_below(act: &Act<'_>, rules: &[&Angle], value: Magnitude) -> Vec<bool> {
    let Some(rule) = rules.first() else { return Vec::new() };
    let below = act.gates_below(rule.quantity);
    below.into_iter().map(|rule| outcome(rule, value).credit).collect()
}

fn push(questions: &mut Vec<Question>, options: Vec<Fact>, taken: usize) {
    if options.len() > 1 {
        questions.push(Question { options, taken });
    }
}

/// Returns the place of the value that costs the athlete least; of equals the one preferred.
fn kindest(act: &Act<'_>, rules: &[&Angle], values: &[Magnitude], preferred: usize) -> usize {
    let cost = |value: Magnitude| {
        let lost = credit_below(act, rules, value).into_iter().filter(|credit| !credit).count();
        let outcomes = rules.iter().map(|rule| settled(act, rule, value));
        outcomes.fold((lost, 0, Points::ZERO), |(credit, met, amount), outcome| {
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
