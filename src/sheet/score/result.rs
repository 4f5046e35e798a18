//! The sheet beside what the routine was given at the meet.

use crate::{marks::Sheaf, sheet::model::BesideResult, units::Points};

/// Returns the result part by part beside the sheet; nothing where none was typed in.
pub(crate) fn beside_result(
    sheaf: &Sheaf,
    start: Option<Points>,
    score: Option<Points>,
) -> Vec<BesideResult> {
    let result = &sheaf.routine.result;
    let part = |part: String, sheet: Option<Points>, given: Points| BesideResult {
        part,
        sheet,
        given,
        difference: sheet.map(|sheet| sheet - given),
    };
    let mut parts = Vec::new();
    if let Some(given) = result.start_value {
        parts.push(part("Start value".to_owned(), start, given));
    }
    // Deductions can be told apart only where both the start value and a score were given.
    if let (Some(from), Some(to)) = (result.start_value, result.average) {
        let taken = start.zip(score).map(|(start, score)| start - score);
        parts.push(part("Taken off, by the average".to_owned(), taken, from - to));
    }
    for judge in &result.judges {
        parts.push(part(format!("Score of judge {}", judge.judge), score, judge.score));
    }
    if let Some(given) = result.average {
        parts.push(part("Average".to_owned(), score, given));
    }
    parts
}
