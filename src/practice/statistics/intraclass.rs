//! Intraclass correlation of values that several people gave the same things, by Shrout and
//! Fleiss (1979).

use serde::Serialize;

use super::{
    differences::detectable,
    interval::{Interval, f_quantile},
    undefined::{Stat, Undefined},
};

/// Which question the correlation answers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum IntraclassForm {
    /// Each thing has its own people: ICC(1).
    OwnPeople,
    /// The same people for all, any others might have been asked; level counts: ICC(2).
    Agreement,
    /// These people only; a constant difference between them does not count: ICC(3).
    Consistency,
}

/// An intraclass correlation with the errors that go with it, in the unit of the values.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Intraclass {
    /// How many things.
    pub items: usize,
    /// How many people.
    pub people: usize,
    /// For one person's value.
    pub single: f64,
    /// Its 95 % interval.
    pub single_interval: Interval,
    /// For the mean of all the people.
    pub mean: f64,
    /// Its 95 % interval.
    pub mean_interval: Interval,
    /// Standard error of one value: of agreement, or of consistency for that form.
    pub standard_error: f64,
    /// The least change of one value that goes beyond chance.
    pub detectable: f64,
}

/// Mean squares of a two-way table.
struct Squares {
    n: f64,
    k: f64,
    between: f64,
    people: f64,
    error: f64,
    within: f64,
}

/// Returns the correlation of things by people: one row for each thing, one value from each
/// person. Needs two things and two people.
pub fn intraclass(rows: &[Vec<f64>], form: IntraclassForm) -> Stat<Intraclass> {
    let of = squares(rows)?;
    let Squares { n, k, between: b, people: j, error: e, within: w } = of;
    if b + j + e <= f64::EPSILON * (1.0 + rows[0][0].abs()) {
        return Err(Undefined::NoSpread);
    }
    let (single, standard_error) = match form {
        IntraclassForm::OwnPeople => ((b - w) / (b + (k - 1.0) * w), w.sqrt()),
        IntraclassForm::Agreement => {
            let spread = (j - e) / n;
            let value = (b - e) / (b + (k - 1.0) * e + k * spread);
            // Below zero the people differ by less than chance: their part is none.
            (value, (spread.max(0.0) + e).sqrt())
        }
        IntraclassForm::Consistency => ((b - e) / (b + (k - 1.0) * e), e.sqrt()),
    };
    let single_interval = match form {
        IntraclassForm::OwnPeople => of_ratio(b / w, (n - 1.0, n * (k - 1.0)), k),
        IntraclassForm::Consistency => of_ratio(b / e, (n - 1.0, (n - 1.0) * (k - 1.0)), k),
        IntraclassForm::Agreement => of_agreement(&of, single),
    };
    let stepped = |value: f64| k * value / (1.0 + (k - 1.0) * value);
    Ok(Intraclass {
        items: rows.len(),
        people: rows[0].len(),
        single,
        single_interval,
        mean: stepped(single),
        mean_interval: Interval {
            low: stepped(single_interval.low),
            high: stepped(single_interval.high),
        },
        standard_error,
        detectable: detectable(standard_error),
    })
}

fn squares(rows: &[Vec<f64>]) -> Stat<Squares> {
    let (n, k) = (rows.len(), rows.first().map_or(0, Vec::len));
    match (n, k) {
        (0, _) => return Err(Undefined::Nothing),
        (_, 0 | 1) => return Err(Undefined::OnePerson),
        (1, _) => return Err(Undefined::TooFew { needed: 2, found: 1 }),
        _ if rows.iter().any(|row| row.len() != k) => return Err(Undefined::Gaps),
        _ if rows.iter().flatten().any(|value| !value.is_finite()) => {
            return Err(Undefined::Unusable);
        }
        _ => {}
    }
    let (n, k) = (n as f64, k as f64);
    let mean = rows.iter().flatten().sum::<f64>() / (n * k);
    let squared = |x: f64| (x - mean).powi(2);
    let total: f64 = rows.iter().flatten().map(|x| squared(*x)).sum();
    let between: f64 = rows.iter().map(|row| k * squared(row.iter().sum::<f64>() / k)).sum();
    let people: f64 = (0..rows[0].len())
        .map(|person| n * squared(rows.iter().map(|row| row[person]).sum::<f64>() / n))
        .sum();
    let error = (total - between - people).max(0.0);
    Ok(Squares {
        n,
        k,
        between: between / (n - 1.0),
        people: people / (k - 1.0),
        error: error / ((n - 1.0) * (k - 1.0)),
        within: (total - between).max(0.0) / (n * (k - 1.0)),
    })
}

/// Returns the interval from a ratio of mean squares; perfect agreement has none to speak of.
fn of_ratio(ratio: f64, (above, below): (f64, f64), k: f64) -> Interval {
    if !ratio.is_finite() {
        return Interval { low: 1.0, high: 1.0 };
    }
    let end = |f: f64| (f - 1.0) / (f + k - 1.0);
    Interval {
        low: end(ratio / f_quantile(above, below)),
        high: end(ratio * f_quantile(below, above)),
    }
}

/// Returns the interval of agreement with Satterthwaite's degrees of freedom.
fn of_agreement(of: &Squares, value: f64) -> Interval {
    let Squares { n, k, between: b, people: j, error: e, .. } = *of;
    if value >= 1.0 {
        return Interval { low: 1.0, high: 1.0 };
    }
    let a = k * value / (n * (1.0 - value));
    let c = 1.0 + k * value * (n - 1.0) / (n * (1.0 - value));
    let parts = (a * j).powi(2) / (k - 1.0) + (c * e).powi(2) / ((n - 1.0) * (k - 1.0));
    let freedom = ((a * j + c * e).powi(2) / parts).max(1.0);
    let freedom = if freedom.is_finite() { freedom } else { 1.0 };
    let spread = k * j + (k * n - k - n) * e;
    let low = f_quantile(n - 1.0, freedom);
    let high = f_quantile(freedom, n - 1.0);
    Interval {
        low: n * (b - low * e) / (low * spread + n * b),
        high: n * (high * b - e) / (spread + n * high * b),
    }
    .within(-1.0, 1.0)
}
