use serde::Serialize;
use statrs::function::beta::{beta_reg, inv_beta_reg};

use super::{
    interval::{Interval, Z},
    undefined::{Stat, Undefined},
};

/// How many of how many, with the interval for the share.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Proportion {
    /// How many.
    pub hits: usize,
    /// Of how many, at least 1.
    pub of: usize,
    /// The share, 0 to 1.
    pub share: f64,
    /// Its 95 % interval.
    pub interval: Interval,
}

/// Returns the share with Wilson's score interval (1927).
pub fn wilson(hits: usize, of: usize) -> Stat<Proportion> {
    let (share, n) = share(hits, of)?;
    let middle = share + Z * Z / (2.0 * n);
    let half = Z * (share * (1.0 - share) / n + Z * Z / (4.0 * n * n)).sqrt();
    let whole = 1.0 + Z * Z / n;
    let interval = Interval { low: (middle - half) / whole, high: (middle + half) / whole };
    Ok(Proportion { hits, of, share, interval: ends(interval, hits, of) })
}

/// Returns the share with Wilson's interval corrected for continuity (Newcombe 1998).
pub fn wilson_corrected(hits: usize, of: usize) -> Stat<Proportion> {
    let (p, n) = share(hits, of)?;
    let square = Z * Z;
    let root = |sign: f64| {
        (square - sign * 2.0 - 1.0 / n + 4.0 * p * (n * (1.0 - p) + sign)).max(0.0).sqrt()
    };
    let whole = 2.0 * (n + square);
    let interval = Interval {
        low: (2.0 * n * p + square - 1.0 - Z * root(1.0)) / whole,
        high: (2.0 * n * p + square + 1.0 + Z * root(-1.0)) / whole,
    };
    Ok(Proportion { hits, of, share: p, interval: ends(interval.within(0.0, 1.0), hits, of) })
}

/// Returns the share with the exact interval of Clopper and Pearson (1934).
pub fn exact(hits: usize, of: usize) -> Stat<Proportion> {
    let (share, n) = share(hits, of)?;
    let x = hits as f64;
    let low = if hits == 0 { 0.0 } else { inv_beta_reg(x, n - x + 1.0, 0.025) };
    let high = if hits == of { 1.0 } else { inv_beta_reg(x + 1.0, n - x, 0.975) };
    Ok(Proportion { hits, of, share, interval: Interval { low, high } })
}

/// Returns how probable it is that two counts of differences, one each way, lie at least this far
/// apart when neither way is likelier: McNemar's exact test, two-sided.
pub fn lean(one_way: usize, other_way: usize) -> Stat<f64> {
    if one_way + other_way == 0 {
        return Err(Undefined::Nothing);
    }
    let (few, many) = (one_way.min(other_way) as f64, one_way.max(other_way) as f64);
    // P(at most `few` of n at one half) as an incomplete beta function.
    let tail = beta_reg(many, few + 1.0, 0.5);
    Ok((2.0 * tail).min(1.0))
}

fn share(hits: usize, of: usize) -> Stat<(f64, f64)> {
    match of {
        0 => Err(Undefined::Nothing),
        _ if hits > of => Err(Undefined::Unusable),
        _ => Ok((hits as f64 / of as f64, of as f64)),
    }
}

/// Puts the ends at exactly 0 and 1 where nothing or all was hit.
fn ends(interval: Interval, hits: usize, of: usize) -> Interval {
    Interval {
        low: if hits == 0 { 0.0 } else { interval.low },
        high: if hits == of { 1.0 } else { interval.high },
    }
}
