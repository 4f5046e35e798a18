//! From a rule book and marks to a score sheet.

use super::model::{CAUTION, Range, ScoreSheet, Standing};
use crate::{marks::Sheaf, rulebook::Book, units::Points};

/// Returns the score sheet of the routine under the book.
pub fn score(book: &Book, sheaf: &Sheaf) -> ScoreSheet {
    let _ = sheaf;
    ScoreSheet {
        standing: Standing { book: book.id.clone(), ..Standing::default() },
        start_value: Points::ZERO,
        score: None,
        score_range: Range { low: Points::ZERO, high: Points::ZERO, may_be_void: false },
        void: false,
        void_reasons: Vec::new(),
        elements: Vec::new(),
        value_parts: Vec::new(),
        requirements: Vec::new(),
        deductions: Vec::new(),
        win_back: Vec::new(),
        remarks: Vec::new(),
        caution: CAUTION,
    }
}
