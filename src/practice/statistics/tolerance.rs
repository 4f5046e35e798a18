//! Factors of the standard deviation for normal values, of which a few are known.

use statrs::function::gamma::{gamma_lr, gamma_ur};

use super::interval::Z;

/// Returns by how many deviations an interval around the mean of `found` values must reach so that
/// in 95 of 100 samples it holds at least 95 of 100 values: the two-sided tolerance factor, in the
/// approximation of Howe (1969, J. Am. Stat. Assoc. 64:610-620, from memory), right to 1 in 100
/// from 4 values on.
pub fn tolerance_factor(found: usize) -> f64 {
    let n = found as f64;
    let freedom = n - 1.0;
    Z * ((1.0 + 1.0 / n) * freedom / chi_square_quantile(freedom)).sqrt()
}

/// Returns the 0.05 quantile of chi-square.
fn chi_square_quantile(freedom: f64) -> f64 {
    root(freedom, |x| gamma_lr(freedom / 2.0, x / 2.0) - 0.05)
}

/// Returns the factors between which, with 95 % confidence, the mean plus `z` true deviations lies:
/// the mean plus each times the deviation found. Exact, by the non-central t, as Carkeet 2015
/// (Optom. Vis. Sci. 92:e71-e80) has it for limits of agreement taken one by one.
pub fn limit_factors(found: usize, z: f64) -> [f64; 2] {
    let n = found as f64;
    let shift = z * n.sqrt();
    [0.025, 0.975].map(|share| root(shift, |t| non_central_t(t, n - 1.0, shift) - share) / n.sqrt())
}

/// Returns the probability that (Z + shift) / √(χ²/freedom) is at most `t`, more than 0: the
/// probability of χ² for each Z, summed by the trapezoidal rule, which is at its best there.
fn non_central_t(t: f64, freedom: f64, shift: f64) -> f64 {
    const STEP: f64 = 0.2;
    const STEPS: i32 = 35;
    let at = |step: i32| {
        let z = f64::from(step) * STEP;
        let least = (z + shift) / t;
        let square = freedom * least * least / 2.0;
        let reached =
            if least <= 0.0 || square <= 0.0 { 1.0 } else { gamma_ur(freedom / 2.0, square) };
        (-z * z / 2.0).exp() * reached
    };
    (-STEPS..=STEPS).map(at).sum::<f64>() * STEP / (2.0 * std::f64::consts::PI).sqrt()
}

/// Returns where a rising function of positive numbers is 0, looked for from `near` on: false
/// position, the end that stays counted by half (the Illinois way).
fn root(near: f64, of: impl Fn(f64) -> f64) -> f64 {
    const TIMES: usize = 60;
    let (mut low, mut high) = (near, near);
    for _ in 0..TIMES {
        if of(low) <= 0.0 {
            break;
        }
        low /= 1.5;
    }
    for _ in 0..TIMES {
        if of(high) >= 0.0 {
            break;
        }
        high *= 1.5;
    }
    let (mut below, mut above) = (of(low), of(high));
    for _ in 0..TIMES {
        let middle = if above > below {
            low + (high - low) * below / (below - above)
        } else {
            f64::midpoint(low, high)
        };
        let there = of(middle);
        if there.abs() < 1e-12 || (high - low) < 1e-12 * near {
            return middle;
        }
        if there < 0.0 {
            (low, below, above) = (middle, there, above / 2.0);
        } else {
            (high, above, below) = (middle, there, below / 2.0);
        }
    }
    f64::midpoint(low, high)
}
