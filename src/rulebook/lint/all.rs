//! All warnings about a book.

use super::{angles, elements, idle, meets, numbers, parts, reach, scope, spots::Spots, sums};
use crate::rulebook::{
    model::book::Book,
    rows::{Findings, Walked},
};

/// Adds warnings about the book to the findings.
pub(crate) fn lint(book: &Book, walked: &Walked, findings: &mut Findings<'_>) {
    let spots = Spots { walked };
    elements::lint(book, &spots, findings);
    scope::lint(book, &spots, findings);
    meets::lint(book, &spots, findings);
    idle::tags(book, &spots, findings);
    parts::lint(book, &spots, findings);
    reach::lint(book, &spots, findings);
    lint_rows(book, walked, findings);
}

/// Adds those warnings that hold whatever divisions, events, classes and elements there are.
pub(crate) fn lint_rows(book: &Book, walked: &Walked, findings: &mut Findings<'_>) {
    let spots = Spots { walked };
    angles::lint(book, &spots, findings);
    numbers::lint(book, &spots, findings);
    sums::lint(book, &spots, findings);
    idle::lint(book, &spots, findings);
    reach::lowest(&spots, findings);
}
