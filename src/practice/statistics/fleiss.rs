//! Agreement of several people on categories, where everybody answered everything.

use serde::Serialize;

use super::undefined::{Stat, Undefined};

/// Fleiss' kappa (1971).
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fleiss {
    /// Agreement beyond chance.
    pub value: f64,
    /// Kappa of each category against all others; nothing for one that nobody or everybody used.
    pub by_category: Vec<Option<f64>>,
    /// Share of answers in each category.
    pub shares: Vec<f64>,
    /// Mean share of agreeing pairs.
    pub observed: f64,
    /// Share that chance would bring.
    pub by_chance: f64,
    /// Standard error when there is nothing but chance (Fleiss, Nee and Landis 1979).
    pub standard_error_by_chance: f64,
}

/// Returns Fleiss' kappa of items by categories: how many people put the item there, as many
/// people for each item.
pub fn fleiss(counts: &[Vec<usize>]) -> Stat<Fleiss> {
    let items = counts.len() as f64;
    let first = counts.first().ok_or(Undefined::Nothing)?;
    let people = first.iter().sum::<usize>();
    if people < 2 {
        return Err(Undefined::OnePerson);
    }
    if counts.iter().any(|row| row.len() != first.len() || row.iter().sum::<usize>() != people) {
        return Err(Undefined::Gaps);
    }
    let m = people as f64;
    let shares: Vec<f64> = (0..first.len())
        .map(|j| counts.iter().map(|row| row[j]).sum::<usize>() as f64 / (items * m))
        .collect();
    if shares.iter().filter(|share| **share > 0.0).count() < 2 {
        return Err(Undefined::OneCategory);
    }
    let pairs = |row: &Vec<usize>| row.iter().map(|n| n * n.saturating_sub(1)).sum::<usize>();
    let agreeing = counts.iter().map(pairs).sum::<usize>() as f64;
    let observed = agreeing / (items * m * (m - 1.0));
    let by_chance: f64 = shares.iter().map(|share| share * share).sum();
    let of_category = |j: usize| {
        let mixed: usize = counts.iter().map(|row| row[j] * (people - row[j])).sum();
        let spread = items * m * (m - 1.0) * shares[j] * (1.0 - shares[j]);
        (spread > 0.0).then(|| 1.0 - mixed as f64 / spread)
    };
    let spread: f64 = shares.iter().map(|p| p * (1.0 - p)).sum();
    let skew: f64 = shares.iter().map(|p| p * (1.0 - p) * (1.0 - 2.0 * p)).sum();
    let variance = 2.0 * (spread * spread - skew) / (items * m * (m - 1.0) * spread * spread);
    Ok(Fleiss {
        value: (observed - by_chance) / (1.0 - by_chance),
        by_category: (0..shares.len()).map(of_category).collect(),
        shares,
        observed,
        by_chance,
        standard_error_by_chance: variance.max(0.0).sqrt(),
    })
}
