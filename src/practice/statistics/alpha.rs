//! Agreement of several people who may have left some things out.

use super::undefined::{Stat, Undefined};

/// How far apart two values are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AlphaScale {
    /// Names: the same or not.
    Nominal,
    /// Ranks.
    Ordinal,
    /// Numbers whose differences count.
    Interval,
    /// Numbers whose ratios count.
    Ratio,
}

/// Returns Krippendorff's alpha of items, each with the values that people gave it.
///
/// An item with fewer than two values drops out.
pub fn alpha(items: &[Vec<f64>], scale: AlphaScale) -> Stat<f64> {
    if items.iter().flatten().any(|value| !value.is_finite()) {
        return Err(Undefined::Unusable);
    }
    let pairable: Vec<&Vec<f64>> = items.iter().filter(|values| values.len() > 1).collect();
    if pairable.is_empty() {
        return Err(if items.is_empty() { Undefined::Nothing } else { Undefined::OnePerson });
    }
    let mut values: Vec<f64> = pairable.iter().copied().flatten().copied().collect();
    values.sort_by(f64::total_cmp);
    let total = values.len() as f64;
    let counted = counted(&values);
    let apart = |a: f64, b: f64| distance(scale, &counted, a, b);
    let within: f64 =
        pairable.iter().map(|item| all_pairs(item, &apart) / (item.len() as f64 - 1.0)).sum();
    let mut between = 0.0;
    for (i, (a, of_a)) in counted.iter().enumerate() {
        for (b, of_b) in &counted[i + 1..] {
            between += 2.0 * of_a * of_b * apart(*a, *b);
        }
    }
    if counted.len() < 2 || between <= 0.0 {
        return Err(Undefined::OneCategory);
    }
    Ok(1.0 - (total - 1.0) * within / between)
}

/// Returns each value with how often it is there, lowest first.
fn counted(sorted: &[f64]) -> Vec<(f64, f64)> {
    sorted.chunk_by(|a, b| a == b).map(|same| (same[0], same.len() as f64)).collect()
}

/// Returns the sum of the distances over ordered pairs; equal values are no distance apart.
fn all_pairs(values: &[f64], apart: &impl Fn(f64, f64) -> f64) -> f64 {
    let mut values = values.to_vec();
    values.sort_by(f64::total_cmp);
    let counted = counted(&values);
    let mut sum = 0.0;
    for (i, (a, of_a)) in counted.iter().enumerate() {
        for (b, of_b) in &counted[i + 1..] {
            sum += 2.0 * of_a * of_b * apart(*a, *b);
        }
    }
    sum
}

fn distance(scale: AlphaScale, counted: &[(f64, f64)], a: f64, b: f64) -> f64 {
    let (low, high) = (a.min(b), a.max(b));
    match scale {
        _ if low == high => 0.0,
        AlphaScale::Nominal => 1.0,
        AlphaScale::Interval => (high - low).powi(2),
        AlphaScale::Ratio => ((high - low) / (high + low)).powi(2),
        AlphaScale::Ordinal => {
            let between = counted.iter().filter(|(value, _)| (low..=high).contains(value));
            let ends = counted.iter().filter(|(value, _)| *value == low || *value == high);
            let ranks = between.map(|(_, count)| count).sum::<f64>()
                - ends.map(|(_, count)| count / 2.0).sum::<f64>();
            ranks * ranks
        }
    }
}
