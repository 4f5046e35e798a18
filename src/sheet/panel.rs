//! Two or more judges' scores of one routine made into one, as the book says.

use serde::Serialize;

use crate::{
    rulebook::{Combine, Panel, Rounding},
    units::Points,
};

/// What a panel of judges comes to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(tag = "outcome", rename_all = "snake_case")]
pub enum Combined {
    /// One score, within the allowed difference.
    Score {
        /// The score.
        score: Points,
    },
    /// The scores differ by more than is allowed; the judges confer.
    TooFarApart {
        /// What the scores would make.
        average: Points,
        /// By how much they differ.
        difference: Points,
        /// How much is allowed at this average.
        allowed: Points,
    },
    /// Some say void and some do not; the judges confer, and no mean is taken.
    VoidDisputed {
        /// How many say void.
        void: usize,
        /// How many do not.
        scored: usize,
    },
    /// All say void; it counts 0.000 in totals.
    Void,
    /// Too few scores for the book's way of combining.
    TooFew,
}

/// Returns what the judges' scores come to; nothing stands for void.
pub fn combine(panel: &Panel, scores: &[Option<Points>]) -> Combined {
    let mut counting: Vec<Points> = scores.iter().copied().flatten().collect();
    let void = scores.len() - counting.len();
    if void > 0 && !counting.is_empty() {
        return Combined::VoidDisputed { void, scored: counting.len() };
    }
    if void > 0 {
        return Combined::Void;
    }
    counting.sort_unstable();
    let counting = match panel.combine {
        Combine::Mean => &counting[..],
        Combine::DropEnds if counting.len() > 2 => &counting[1..counting.len() - 1],
        Combine::DropEnds => &[],
    };
    let (Some(low), Some(high)) = (counting.first(), counting.last()) else {
        return Combined::TooFew;
    };
    let average = mean(panel, counting);
    let difference = *high - *low;
    match panel.allowed_at(average) {
        Some(allowed) if difference > allowed => {
            Combined::TooFarApart { average, difference, allowed }
        }
        _ => Combined::Score { score: average },
    }
}

/// Returns the mean in the decimals that the book keeps, without passing through a float.
fn mean(panel: &Panel, scores: &[Points]) -> Points {
    let sum: i64 = scores.iter().map(|score| score.0).sum();
    let step = 10_i64.pow(3 - panel.digits.min(3));
    let parts = scores.len() as i64 * step;
    let steps = match panel.rounding {
        Rounding::Cut => sum.div_euclid(parts),
        Rounding::Nearest => (2 * sum + parts).div_euclid(2 * parts),
    };
    Points(steps * step)
}
