//! Agreement of two people on categories, beyond what chance alone would bring.

use serde::Serialize;

use super::{
    interval::{Interval, t_quantile},
    undefined::{Stat, Undefined},
    withheld::Range,
};

/// From this share of answers in one category on, kappa is said to mislead.
const NEARLY_ALL: f64 = 0.8;

/// Agreement at most this much likelier, as a logarithm: beyond it nothing changes any more.
const TILT: f64 = 16.0;
/// Enough for twelve digits of the tilt.
const HALVINGS: usize = 44;

/// How often one person said this and the other that: as many rows as columns.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Square {
    counts: Vec<usize>,
    size: usize,
}

/// What two different categories count as.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Weights<'a> {
    /// Different is different.
    Plain,
    /// Ordered categories: by their distance.
    Linear,
    /// Ordered categories: by the square of their distance.
    Quadratic,
    /// Disagreement written out row by row, 0 for the same, larger for worse.
    Disagreement(&'a [f64]),
}

/// Cohen's kappa (1960, weighted 1968) with what belongs beside it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Kappa {
    /// Agreement beyond chance: 1 is perfect, 0 is chance.
    pub value: f64,
    /// Its standard error for large samples (Fleiss, Cohen and Everitt 1969).
    pub standard_error: f64,
    /// The standard error when there is nothing but chance, by the same source.
    pub standard_error_by_chance: f64,
    /// Its 95 % interval, where one person is beside one reference and items are one draw of many.
    pub interval: Range,
    /// Weighted share of agreement observed.
    pub observed: f64,
    /// Weighted share that chance would bring.
    pub by_chance: f64,
    /// Twice the observed agreement less one: what kappa would be if all answers were as common.
    pub even: f64,
    /// Gwet's coefficient AC1, which a lopsided table misleads less.
    pub ac1: f64,
    /// Whether nearly all answers are alike, so that kappa misleads.
    pub misleads: bool,
}

impl Square {
    /// Returns the table of counts given row by row; nothing when it is not square.
    pub fn new(rows: &[&[usize]]) -> Option<Self> {
        let size = rows.len();
        let is_square = size > 0 && rows.iter().all(|row| row.len() == size);
        is_square.then(|| Self { counts: rows.concat(), size })
    }

    /// Returns the table of pairs of categories, each a number below `size`.
    pub(crate) fn of_pairs(pairs: &[(usize, usize)], size: usize) -> Stat<Self> {
        let mut counts = vec![0; size * size];
        for &(row, column) in pairs {
            if row >= size || column >= size {
                return Err(Undefined::Unusable);
            }
            counts[row * size + column] += 1;
        }
        Ok(Self { counts, size })
    }

    /// Returns how many pairs there are.
    pub fn total(&self) -> usize {
        self.counts.iter().sum()
    }

    fn share(&self, row: usize, column: usize) -> f64 {
        self.counts[row * self.size + column] as f64 / self.total() as f64
    }

    fn row(&self, row: usize) -> f64 {
        (0..self.size).map(|column| self.share(row, column)).sum()
    }

    fn column(&self, column: usize) -> f64 {
        (0..self.size).map(|row| self.share(row, column)).sum()
    }

    fn cells(&self) -> impl Iterator<Item = (usize, usize)> {
        let size = self.size;
        (0..size * size).map(move |cell| (cell / size, cell % size))
    }
}

/// Returns kappa of the table; undefined where there are no pairs or chance explains all of them.
pub fn kappa(table: &Square, weights: Weights<'_>) -> Stat<Kappa> {
    let n = table.total() as f64;
    if table.total() == 0 {
        return Err(Undefined::Nothing);
    }
    let weight = agreement_weights(weights, table.size)?;
    let w = |row: usize, column: usize| weight[row * table.size + column];
    let rows: Vec<f64> = (0..table.size).map(|i| table.row(i)).collect();
    let columns: Vec<f64> = (0..table.size).map(|j| table.column(j)).collect();
    let shares: Vec<f64> = table.cells().map(|(i, j)| table.share(i, j)).collect();
    let Spread { observed, by_chance, value, deviation } = Spread::of(&shares, &weight, table.size);
    // Integers decide, because sums of shares may miss 1 by a hair.
    let used = (0..table.size).filter(|&i| rows[i] + columns[i] > 0.0).count();
    if used < 2 || by_chance >= 1.0 {
        return Err(Undefined::OneCategory);
    }
    let of_row = |i: usize| (0..table.size).map(|j| w(i, j) * columns[j]).sum::<f64>();
    let of_column = |j: usize| (0..table.size).map(|i| w(i, j) * rows[i]).sum::<f64>();
    let mean = |i: usize, j: usize| of_row(i) + of_column(j);
    let chance: f64 =
        table.cells().map(|(i, j)| rows[i] * columns[j] * (w(i, j) - mean(i, j)).powi(2)).sum();
    let error = |variance: f64| (variance.max(0.0) / n).sqrt() / (1.0 - by_chance);
    let same: f64 = (0..table.size).map(|i| table.share(i, i)).sum();
    let mixed: Vec<f64> = rows.iter().zip(&columns).map(|(r, c)| f64::midpoint(*r, *c)).collect();
    Ok(Kappa {
        value,
        standard_error: deviation / n.sqrt(),
        standard_error_by_chance: error(chance - by_chance * by_chance),
        interval: Range(
            Range::enough(table.total(), None)
                .map(|()| tilted(&shares, &weight, table.size, (value, n))),
        ),
        observed,
        by_chance,
        even: 2.0 * same - 1.0,
        ac1: ac1(same, &mixed),
        misleads: mixed.iter().any(|share| *share >= NEARLY_ALL),
    })
}

/// Kappa of a table of shares, and how far it scatters from table to table of one item.
struct Spread {
    observed: f64,
    by_chance: f64,
    value: f64,
    deviation: f64,
}

impl Spread {
    /// Works it out by the large-sample formula of Fleiss, Cohen and Everitt (1969).
    fn of(shares: &[f64], weight: &[f64], size: usize) -> Self {
        let sum = |of: &dyn Fn(usize) -> f64| (0..size).map(of).sum::<f64>();
        let rows: Vec<f64> = (0..size).map(|i| sum(&|j| shares[i * size + j])).collect();
        let columns: Vec<f64> = (0..size).map(|j| sum(&|i| shares[i * size + j])).collect();
        let of_row: Vec<f64> =
            (0..size).map(|i| sum(&|j| weight[i * size + j] * columns[j])).collect();
        let of_column: Vec<f64> =
            (0..size).map(|j| sum(&|i| weight[i * size + j] * rows[i])).collect();
        let observed: f64 = shares.iter().zip(weight).map(|(p, w)| p * w).sum();
        let by_chance = sum(&|i| rows[i] * of_row[i]);
        let value = (observed - by_chance) / (1.0 - by_chance);
        let cell = |cell: usize| {
            let mean = of_row[cell / size] + of_column[cell % size];
            shares[cell] * (weight[cell] - mean * (1.0 - value)).powi(2)
        };
        let spread: f64 = (0..size * size).map(cell).sum();
        let variance = spread - (value - by_chance * (1.0 - value)).powi(2);
        let deviation = variance.max(0.0).sqrt() / (1.0 - by_chance);
        Self { observed, by_chance, value, deviation }
    }
}

/// Returns the 95 % interval of kappa: all values from which the one found lies no further than
/// Student's t times the deviation that it would have there.
///
/// That is how Wilson's interval of a share comes about. What the table would be at another kappa is
/// taken from the table found, with two imagined items spread over all its cells (as Agresti and
/// Coull 1998 do for a share), agreement made likelier or less likely in all its cells alike. The
/// interval of Fleiss, Cohen and Everitt, which takes the deviation at the value found, holds 55 of
/// 100 at 8 items. That inverting a test is the better way for kappa as well is from Lee and Tu
/// 1994, J. Comput. Graph. Stat. 3:301-321. Sources from memory; the way of tilting is our own, and
/// `agreement_course` simulates what it holds.
fn tilted(shares: &[f64], weight: &[f64], size: usize, (value, n): (f64, f64)) -> Interval {
    const IMAGINED: f64 = 2.0;
    let even = IMAGINED / (size * size) as f64;
    let smooth: Vec<f64> = shares.iter().map(|p| (p * n + even) / (n + IMAGINED)).collect();
    let at = |tilt: f64| {
        let mut table: Vec<f64> =
            smooth.iter().zip(weight).map(|(p, w)| p * (tilt * w).exp()).collect();
        let whole: f64 = table.iter().sum();
        for p in &mut table {
            *p /= whole;
        }
        Spread::of(&table, weight, size)
    };
    let far = t_quantile(n - 1.0) / n.sqrt();
    // The value found, seen from each kappa, falls steadily from far above to far below.
    let end = |side: f64| {
        let (mut low, mut high) = (-TILT, TILT);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            let there = at(middle);
            if value - there.value > side * far * there.deviation {
                low = middle;
            } else {
                high = middle;
            }
        }
        at(f64::midpoint(low, high)).value
    };
    Interval { low: end(1.0).min(value), high: end(-1.0).max(value) }
}

/// Returns Gwet's AC1 (2008) from the share of agreement and of each category.
fn ac1(same: f64, categories: &[f64]) -> f64 {
    let spread: f64 = categories.iter().map(|share| share * (1.0 - share)).sum();
    let chance = spread / (categories.len() as f64 - 1.0);
    (same - chance) / (1.0 - chance)
}

/// Returns weights of agreement, 1 for the same and 0 for the worst, row by row.
fn agreement_weights(weights: Weights<'_>, size: usize) -> Stat<Vec<f64>> {
    let apart = |cell: usize| (cell / size).abs_diff(cell % size) as f64;
    let disagreement: Vec<f64> = match weights {
        Weights::Plain => {
            (0..size * size).map(|cell| f64::from(u8::from(apart(cell) > 0.0))).collect()
        }
        Weights::Linear => (0..size * size).map(apart).collect(),
        Weights::Quadratic => (0..size * size).map(|cell| apart(cell).powi(2)).collect(),
        Weights::Disagreement(written) if written.len() == size * size => written.to_vec(),
        Weights::Disagreement(_) => return Err(Undefined::Unusable),
    };
    let worst = disagreement.iter().copied().fold(0.0, f64::max);
    if size < 2 || worst <= 0.0 {
        return Err(Undefined::OneCategory);
    }
    Ok(disagreement.iter().map(|off| 1.0 - off / worst).collect())
}
