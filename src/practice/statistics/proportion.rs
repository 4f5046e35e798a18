use serde::Serialize;
use statrs::function::beta::{beta_reg, inv_beta_reg};

use super::{
    crossed::{self, Answered, Varies, distinct},
    interval::{Interval, Z},
    undefined::{Stat, Undefined},
    withheld::{Range, Withheld},
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
    pub interval: Range,
}

/// Returns the share with Wilson's score interval (1927).
pub fn wilson(hits: usize, of: usize) -> Stat<Proportion> {
    let (share, n) = share(hits, of)?;
    let middle = share + Z * Z / (2.0 * n);
    let half = Z * (share * (1.0 - share) / n + Z * Z / (4.0 * n * n)).sqrt();
    let whole = 1.0 + Z * Z / n;
    let interval = Interval { low: (middle - half) / whole, high: (middle + half) / whole };
    Ok(Proportion { hits, of, share, interval: Range(Ok(ends(interval, hits, of))) })
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
    let interval = Range(Ok(ends(interval.within(0.0, 1.0), hits, of)));
    Ok(Proportion { hits, of, share: p, interval })
}

/// Returns the share with the exact interval of Clopper and Pearson (1934).
pub fn exact(hits: usize, of: usize) -> Stat<Proportion> {
    let (share, n) = share(hits, of)?;
    let x = hits as f64;
    let low = if hits == 0 { 0.0 } else { inv_beta_reg(x, n - x + 1.0, 0.025) };
    let high = if hits == of { 1.0 } else { inv_beta_reg(x + 1.0, n - x, 0.975) };
    Ok(Proportion { hits, of, share, interval: Range(Ok(Interval { low, high })) })
}

/// Returns the share with Blaker's exact interval (2000, Can. J. Stat. 28:783-798): it never holds
/// less than 95 of 100, and lies within that of Clopper and Pearson.
///
/// Wilson's is shorter, but at 20 answers it holds shares near 1 in 91 of 100.
pub fn blaker(hits: usize, of: usize) -> Stat<Proportion> {
    let outer = exact(hits, of)?;
    let Ok(Interval { low, high }) = outer.interval.0 else { return Ok(outer) };
    // Walked from outside, because what is accepted has holes.
    let inward = |from: f64, step: f64| {
        let mut at = from;
        while (low..=high).contains(&(at + step)) && acceptance(hits, of, at + step) < 0.05 {
            at += step;
        }
        at
    };
    let low = if hits == 0 { 0.0 } else { inward(low, STEP) };
    let high = if hits == of { 1.0 } else { inward(high, -STEP) };
    Ok(Proportion { interval: Range(Ok(Interval { low, high })), ..outer })
}

/// How finely the ends of Blaker's interval are looked for: finer than they are printed.
const STEP: f64 = 5e-4;

/// Returns how probable it is that a count lies as far out as the one found, on its side or, at most
/// as probably, on the other.
fn acceptance(hits: usize, of: usize, share: f64) -> f64 {
    let mut chances = vec![0.0; of + 1];
    let odds = share / (1.0 - share);
    let mut log = of as f64 * (1.0 - share).ln();
    for (count, chance) in chances.iter_mut().enumerate() {
        *chance = log.exp();
        log += ((of - count) as f64 / (count + 1) as f64 * odds).ln();
    }
    let (below, above): (f64, f64) = (chances[..=hits].iter().sum(), chances[hits..].iter().sum());
    let tail = below.min(above);
    if below < above {
        chances.reverse();
    }
    let mut other = 0.0;
    for chance in chances {
        if other + chance > tail * (1.0 + 1e-9) {
            break;
        }
        other += chance;
    }
    tail + other
}

/// Returns the share of hits among answers of one person or of several, with the interval that is
/// right for them.
pub fn crossed_share(cells: &[Answered<bool>]) -> Stat<Proportion> {
    let hits = cells.iter().filter(|cell| cell.said).count();
    let one = blaker(hits, cells.len())?;
    let items = distinct(cells.iter().map(|cell| cell.item)).len();
    let people = distinct(cells.iter().map(|cell| cell.person)).len();
    if people == 1 && items == cells.len() {
        return Ok(one);
    }
    let varies = if people == 1 { Varies::Items } else { Varies::ItemsAndPeople };
    let interval = match crossed::share(cells, varies) {
        // As if everybody's answers were one, and all answers about an item: too long at worst.
        Err(Withheld::NothingDiffers) => {
            let fewest = if people == 1 { items } else { items.min(people) };
            exact(if hits == 0 { 0 } else { fewest }, fewest)?.interval
        }
        found => Range(found),
    };
    Ok(Proportion { interval, ..one })
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
