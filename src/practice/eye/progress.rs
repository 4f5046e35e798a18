//! How a person's eye does: by quantity and by day.

use std::collections::BTreeMap;

use super::{diary::Noted, trainer::Tried};
use crate::{
    geometry::Quantity,
    practice::statistics::{Differences, Stat, differences},
    units::Degrees,
};

/// How a person's eye does.
#[derive(Clone, Debug, PartialEq)]
pub struct Progress {
    /// Each quantity that was answered, in the order of the book.
    pub quantities: Vec<(Quantity, ProgressLine)>,
    /// Each day, the oldest first.
    pub days: Vec<(String, ProgressLine)>,
}

/// Some answers taken together.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProgressLine {
    /// How many there are.
    pub answers: usize,
    /// Mean size of the error.
    pub mean_error: Degrees,
    /// Bias in degrees with its interval, positive is too much; or why there is none.
    pub bias: Stat<Differences>,
}

/// Returns how the eye of the person who gave these answers does.
pub fn progress(noted: &[Noted]) -> Progress {
    let mut quantities: BTreeMap<Quantity, Vec<Tried>> = BTreeMap::new();
    let mut days: BTreeMap<&str, Vec<Tried>> = BTreeMap::new();
    for one in noted {
        quantities.entry(one.tried.quantity).or_default().push(one.tried);
        days.entry(&one.date).or_default().push(one.tried);
    }
    let days = days.into_iter().map(|(day, tried)| (day.to_owned(), line(&tried)));
    Progress {
        quantities: quantities.into_iter().map(|(it, tried)| (it, line(&tried))).collect(),
        days: days.collect(),
    }
}

fn line(tried: &[Tried]) -> ProgressLine {
    let pairs: Vec<(f64, f64)> = tried.iter().map(|it| (it.answer.0, it.truth.0)).collect();
    let sum: f64 = tried.iter().map(|it| it.off().0.abs()).sum();
    ProgressLine {
        answers: tried.len(),
        mean_error: Degrees(sum / tried.len() as f64),
        bias: differences(&pairs),
    }
}
