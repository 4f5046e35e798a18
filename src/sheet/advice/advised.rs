//! The whole sheet: what the routine comes to, and what would win something back.

use crate::{
    marks::Sheaf,
    rulebook::Book,
    sheet::{model::ScoreSheet, score::over_worlds},
};

use super::{skills::Skills, win_back::win_back};

/// Returns the score sheet of the routine under the book.
///
/// The same book and marks always give the same sheet; the order of marks in the file does not
/// matter.
pub fn score(book: &Book, sheaf: &Sheaf) -> ScoreSheet {
    score_with(book, sheaf, None)
}

/// Returns the score sheet of the routine; what could be added to win something back is taken
/// from the athlete's own list.
pub fn score_with(book: &Book, sheaf: &Sheaf, skills: Option<&Skills>) -> ScoreSheet {
    let said = skills.map(|skills| skills.remarks(book, sheaf)).unwrap_or_default();
    let (mut sheet, shown) = over_worlds(book, sheaf, said);
    sheet.win_back = shown.map(|shown| win_back(book, sheaf, &shown, skills)).unwrap_or_default();
    sheet
}
