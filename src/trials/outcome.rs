//! What a routine comes to, as far as a person would see it change.

use crate::{marks::Sheaf, rulebook::Book, sheet, units::Points};

/// Score, start value and parts.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Outcome {
    pub(super) start: Option<Points>,
    pub(super) score: Option<Points>,
    is_void: bool,
    parts: Vec<[Points; 4]>,
}

pub(super) fn outcome(book: &Book, sheaf: &Sheaf) -> Outcome {
    let sheet = sheet::quick(book, sheaf);
    let parts = sheet.parts.iter().map(|part| [part.begins, part.bonus, part.taken, part.comes_to]);
    Outcome {
        start: sheet.start_value,
        score: sheet.score,
        is_void: sheet.void,
        parts: parts.collect(),
    }
}
