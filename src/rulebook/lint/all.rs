//! All warnings about a book.

use super::{angles, elements, meets, numbers, scope, spots::Spots, sums};
use crate::rulebook::{
    model::book::Book,
    rows::{Findings, Walked},
};

/// Adds warnings about the book to the findings.
pub(crate) fn lint(book: &Book, walked: &Walked, findings: &mut Findings<'_>) {
    let spots = Spots { walked };
    angles::lint(book, &spots, findings);
    elements::lint(book, &spots, findings);
    numbers::lint(book, &spots, findings);
    scope::lint(book, &spots, findings);
    meets::lint(book, &spots, findings);
    sums::lint(book, &spots, findings);
}
