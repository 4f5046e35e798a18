//! Two or more judges' scores of one routine made into one, as the book says.

use serde::Serialize;

use crate::{
    rulebook::{Beyond, Combine, Panel},
    units::Points,
};

use super::attempts::mean;

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
    let first: Vec<Points> = counting.first().copied().into_iter().collect();
    counting.sort_unstable();
    let all = &counting[..];
    let counting = match panel.combine {
        Combine::Mean => all,
        Combine::DropEnds => middle(all, all.len().saturating_sub(2)),
        Combine::Middle(wanted) => middle(all, wanted as usize),
        Combine::First => first.as_slice(),
    };
    let (Some(low), Some(high)) = (counting.first(), counting.last()) else {
        return Combined::TooFew;
    };
    let of = |scores: &[Points]| {
        mean(scores.iter().copied().sum(), scores.len(), (panel.digits, panel.rounding))
    };
    let average = of(counting);
    let difference = *high - *low;
    match (panel.allowed_at(average), panel.beyond) {
        (Some(allowed), Beyond::MeanOfAll) if difference > allowed => {
            Combined::Score { score: of(all) }
        }
        (Some(allowed), _) if difference > allowed => {
            Combined::TooFarApart { average, difference, allowed }
        }
        _ => Combined::Score { score: average },
    }
}

/// Returns what a panel's score comes to beside a reference score.
///
/// Within the difference that the book allows at the reference the panel's score stands; beyond
/// it, the mean of both or a talk, as the book says.
pub fn beside_reference(panel: &Panel, score: Points, reference: Points) -> Combined {
    let difference = Points((score.0 - reference.0).abs());
    let average = mean(score + reference, 2, (panel.digits, panel.rounding));
    match (panel.allowed_at(reference), panel.beyond) {
        (Some(allowed), Beyond::Average) if difference > allowed => {
            Combined::Score { score: average }
        }
        // The judges' own scores are not known here, so that no mean of all can be taken.
        (Some(allowed), _) if difference > allowed => {
            Combined::TooFarApart { average, difference, allowed }
        }
        _ => Combined::Score { score },
    }
}

/// Returns the panel that puts a part of the score together: the one that names it, else the one that
/// names none.
pub(crate) fn panel_for<'b>(panels: &[&'b Panel], part: &str) -> Option<&'b Panel> {
    let names = |panel: &&&Panel| panel.parts.iter().any(|own| own == part);
    let other = || panels.iter().find(|panel| panel.parts.is_empty());
    panels.iter().find(names).or_else(other).copied()
}

/// Returns how the panel's scores are put together, in one plain sentence.
pub(super) fn how(panel: &Panel) -> String {
    match panel.combine {
        Combine::Mean => "The mean of all judges counts.".to_owned(),
        Combine::DropEnds => {
            "The highest and the lowest are left out; the mean of the rest counts.".to_owned()
        }
        Combine::Middle(count) => format!("The mean of the {count} in the middle counts."),
        Combine::First => "The first judge's counts.".to_owned(),
    }
}

/// Returns so many scores in the middle; none where they do not lie evenly.
fn middle(sorted: &[Points], wanted: usize) -> &[Points] {
    match sorted.len().checked_sub(wanted) {
        Some(more) if more % 2 == 0 => &sorted[more / 2..sorted.len() - more / 2],
        _ => &[],
    }
}
