//! What an angle rule says of a value: met, credit, amount, and where it cuts its axis.

use crate::{
    geometry::{Cut, Limit, Side},
    rulebook::{Angle, Band, BandAmount},
    units::{Magnitude, Points},
};

/// How an angle rule came out at one element.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Outcome {
    /// Whether the target is met.
    pub met: bool,
    /// Whether credit is given as far as this rule goes.
    pub credit: bool,
    /// What it costs.
    pub amount: Points,
}

/// Returns how the rule comes out at exactly this value.
pub(crate) fn outcome(rule: &Angle, value: Magnitude) -> Outcome {
    let met = rule.limit().holds(value);
    let credit = rule.gates.is_empty() || rule.gate().holds(value);
    let amount = if met { Points::ZERO } else { band_amount(rule, short_by(rule, value)) };
    Outcome { met, credit, amount }
}

/// Returns how far the value falls short of the target; negative when beyond it.
pub(crate) fn short_by(rule: &Angle, value: Magnitude) -> f64 {
    let value = rule.rounded(value).0;
    if rule.side.upward() { rule.target.0 - value } else { value - rule.target.0 }
}

/// Returns whether the rule leaves an amount to be chosen along a band.
pub(crate) fn leaves_a_choice(rule: &Angle) -> bool {
    rule.bands.iter().any(|band| matches!(band.amount, BandAmount::Proportional { .. }))
}

/// Returns the most that the rule takes; nothing where it takes nothing.
pub(crate) fn most(rule: &Angle) -> Option<Points> {
    let amounts = rule.bands.iter().map(|band| match band.amount {
        BandAmount::Flat(amount) => amount,
        BandAmount::Proportional { to, .. } => to,
    });
    amounts.max()
}

/// Returns the steps in which an amount is chosen along its bands; nothing where none is.
pub(crate) fn grid(rule: &Angle) -> Option<Points> {
    let grids = rule.bands.iter().filter_map(|band| match band.amount {
        BandAmount::Proportional { grid, .. } => Some(grid),
        BandAmount::Flat(_) => None,
    });
    grids.min()
}

/// Returns whether the book has no such amount for a judge to choose: less than nothing, or between
/// two steps. Of more than the most the most is taken.
pub(crate) fn is_refused(rule: &Angle, amount: Points) -> bool {
    let is_between = grid(rule).is_some_and(|grid| amount.0 % grid.0.max(1) != 0);
    amount < Points::ZERO || is_between && most(rule).is_some_and(|most| amount <= most)
}

/// Returns where the rule cuts the axis of its quantity: between two cuts it comes out alike.
pub(crate) fn cuts(rule: &Angle) -> Vec<Cut> {
    let mut limits = vec![rule.limit()];
    if !rule.gates.is_empty() {
        limits.push(rule.gate());
    }
    for band in &rule.bands {
        limits.extend(band.up_to.map(|end| at_short(rule, end.0, band.inclusive)));
        // A half step belongs to the larger amount, so that just short of it the smaller holds.
        limits.extend(half_steps(band).into_iter().map(|short| at_short(rule, short, false)));
    }
    limits.into_iter().map(Cut::at).collect()
}

/// Returns the limit that lies so far short of the target.
fn at_short(rule: &Angle, short: f64, inclusive: bool) -> Limit {
    let side = match (rule.side.upward(), inclusive) {
        (true, true) => Side::AtLeast,
        (true, false) => Side::Above,
        (false, true) => Side::AtMost,
        (false, false) => Side::Below,
    };
    let edge = if rule.side.upward() { rule.target.0 - short } else { rule.target.0 + short };
    rule.unrounded(Limit { edge: Magnitude(edge), side })
}

/// Returns how far short a proportional band goes from one amount to the next.
fn half_steps(band: &Band) -> Vec<f64> {
    let (BandAmount::Proportional { from, to, grid }, Some(up_to)) = (band.amount, band.up_to)
    else {
        return Vec::new();
    };
    let (grid, rise) = (grid.0.max(1), to.0 - from.0);
    let steps = (from.0 / grid)..=(to.0 / grid);
    steps
        .map(|step| (step * grid) as f64 + grid as f64 / 2.0)
        .map(|half| (half - from.0 as f64) / rise as f64)
        .filter(|share| *share > 0.0 && *share < 1.0)
        .map(|share| band.over.0 + share * (up_to.0 - band.over.0))
        .collect()
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
