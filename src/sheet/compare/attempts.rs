//! The scores of several attempts made into one, as the book says.

use crate::{
    rulebook::{Attempts, Rounding, Take},
    units::Points,
};

/// Returns what the attempts come to; nothing stands for a void one, which counts 0 in sums and
/// means, and nothing is returned where all are void.
pub fn attempts(rule: &Attempts, scores: &[Option<Points>]) -> Option<Points> {
    let counting = scores.iter().copied().flatten();
    let best = counting.clone().max()?;
    let sum: Points = counting.sum();
    Some(match rule.take {
        Take::Best => best,
        Take::Sum => sum,
        Take::Mean => mean(sum, scores.len(), (rule.digits, rule.rounding)),
    })
}

/// Returns a mean in the decimals that a book keeps, without passing through a float.
pub(crate) fn mean(sum: Points, count: usize, (digits, rounding): (u32, Rounding)) -> Points {
    let step = 10_i64.pow(3 - digits.min(3));
    let parts = count as i64 * step;
    let steps = match rounding {
        Rounding::Cut => sum.0.div_euclid(parts),
        Rounding::Nearest => (2 * sum.0 + parts).div_euclid(2 * parts),
    };
    Points(steps * step)
}
