//! Bland and Altman's comparison of two ways of measuring (1986), with exact intervals of its
//! limits.

use serde::Serialize;

use super::{
    interval::{Interval, t_quantile},
    tolerance::{limit_factors, tolerance_factor},
    undefined::{Stat, Undefined},
    withheld::{Range, Withheld},
};

/// Deviations of one difference on each side between which 95 of 100 normal ones lie.
const NEARLY_ALL: f64 = 1.96;

/// What differences from a reference amount to, in the unit of the values.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Differences {
    /// How many pairs.
    pub pairs: usize,
    /// Mean difference, value minus reference.
    pub bias: f64,
    /// Its standard error.
    pub standard_error: f64,
    /// 95 % interval of the bias, by Student's t.
    pub bias_interval: Range,
    /// Standard deviation of the differences.
    pub deviation: f64,
    /// Limits of agreement: 95 of 100 differences are expected between them.
    pub limits: Interval,
    /// 95 % interval of the lower limit, by the non-central t.
    pub lower_limit_interval: Range,
    /// 95 % interval of the upper limit, likewise.
    pub upper_limit_interval: Range,
    /// Wide enough that in 95 of 100 courses at least 95 of 100 differences lie in it.
    pub tolerance: Range,
}

/// Returns what the pairs of value and reference differ by; needs two pairs.
pub fn differences(pairs: &[(f64, f64)]) -> Stat<Differences> {
    let found = usable(pairs)?;
    if found < 2 {
        return Err(Undefined::TooFew { needed: 2, found });
    }
    let n = found as f64;
    let apart = || pairs.iter().map(|(value, reference)| value - reference);
    let bias = apart().sum::<f64>() / n;
    let deviation = (apart().map(|d| (d - bias).powi(2)).sum::<f64>() / (n - 1.0)).sqrt();
    let standard_error = deviation / n.sqrt();
    let limits = Interval::around(bias, NEARLY_ALL * deviation);
    // The same difference again and again says nothing of how far others will be off.
    let scatters = deviation > 1e-9 * (1.0 + bias.abs());
    let range = |interval: &dyn Fn() -> Interval| {
        Range(if scatters { Ok(interval()) } else { Err(Withheld::NoScatter) })
    };
    let [near, far] = limit_factors(found, NEARLY_ALL).map(|factor| factor * deviation);
    Ok(Differences {
        pairs: found,
        bias,
        standard_error,
        bias_interval: range(&|| Interval::around(bias, t_quantile(n - 1.0) * standard_error)),
        deviation,
        limits,
        lower_limit_interval: range(&|| Interval { low: bias - far, high: bias - near }),
        upper_limit_interval: range(&|| Interval { low: bias + near, high: bias + far }),
        tolerance: range(&|| Interval::around(bias, tolerance_factor(found) * deviation)),
    })
}

/// Returns the standard deviation of one value that a person gives the same thing again, from
/// pairs of first and second value.
pub fn repeatability(pairs: &[(f64, f64)]) -> Stat<f64> {
    let n = usable(pairs)? as f64;
    let squares: f64 = pairs.iter().map(|(first, second)| (first - second).powi(2)).sum();
    Ok((squares / (2.0 * n)).sqrt())
}

/// Returns how far a difference of two single values must go beyond chance, from the standard
/// error of one: the smallest detectable change.
pub(super) fn detectable(standard_error: f64) -> f64 {
    1.96 * std::f64::consts::SQRT_2 * standard_error
}

pub(super) fn usable(pairs: &[(f64, f64)]) -> Stat<usize> {
    match pairs.len() {
        0 => Err(Undefined::Nothing),
        _ if pairs.iter().any(|(a, b)| !(a.is_finite() && b.is_finite())) => {
            Err(Undefined::Unusable)
        }
        found => Ok(found),
    }
}
