//! Lin's concordance of two ways of measuring (1989, corrected 2000).

use serde::Serialize;

use super::{
    differences::usable,
    interval::{Interval, Z},
    undefined::{Stat, Undefined},
};

/// How closely pairs of values lie to the line on which both are the same.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Concordance {
    /// Lin's coefficient: 1 when all pairs lie on the line. Variances are divided by n.
    pub value: f64,
    /// Pearson's correlation.
    pub correlation: f64,
    /// What bias and scale take from the correlation: 1 when they take nothing.
    pub accuracy: f64,
    /// Standard error of the coefficient; 0 when all pairs lie on the line.
    pub standard_error: f64,
    /// 95 % interval through Fisher's transformation.
    pub interval: Interval,
}

/// Returns the concordance of the pairs; needs three.
pub fn concordance(pairs: &[(f64, f64)]) -> Stat<Concordance> {
    let found = usable(pairs)?;
    if found < 3 {
        return Err(Undefined::TooFew { needed: 3, found });
    }
    let n = found as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / n;
    let (x, y) = (mean(|pair| pair.0), mean(|pair| pair.1));
    let sum =
        |of: &dyn Fn(f64, f64) -> f64| pairs.iter().map(|(a, b)| of(a - x, b - y)).sum::<f64>() / n;
    let (of_x, of_y, both) = (sum(&|a, _| a * a), sum(&|_, b| b * b), sum(&|a, b| a * b));
    if of_x <= 0.0 || of_y <= 0.0 {
        return Err(Undefined::NoSpread);
    }
    let value = 2.0 * both / (of_x + of_y + (x - y).powi(2));
    let correlation = both / (of_x * of_y).sqrt();
    let shift = (x - y) / (of_x * of_y).powf(0.25);
    let standard_error = standard_error(n, (value, correlation), shift);
    let rest = 1.0 - value * value;
    let interval = if rest > 0.0 {
        let (z, half) = (value.atanh(), Z * standard_error / rest);
        Interval { low: (z - half).tanh(), high: (z + half).tanh() }
    } else {
        Interval { low: value, high: value }
    };
    Ok(Concordance {
        value,
        correlation,
        accuracy: if correlation == 0.0 { 0.0 } else { value / correlation },
        standard_error,
        interval,
    })
}

fn standard_error(n: f64, (value, correlation): (f64, f64), shift: f64) -> f64 {
    let square = correlation * correlation;
    if square == 0.0 {
        return 0.0;
    }
    let variance = (1.0 - square) * value.powi(2) * (1.0 - value.powi(2)) / square
        + 2.0 * value.powi(3) * (1.0 - value) * shift.powi(2) / correlation
        - value.powi(4) * shift.powi(4) / (2.0 * square);
    (variance.max(0.0) / (n - 2.0)).sqrt()
}
