//! Places of rules in the file, and what their scopes have in common.

use std::ops::Range;

use crate::rulebook::{
    keys::Scope,
    model::book::Book,
    rows::{Row, Walked},
};

/// Finds the place of a rule in the file.
pub(crate) struct Spots<'a> {
    /// The checked tables of the file.
    pub walked: &'a Walked,
}

impl Spots<'_> {
    /// Returns the bytes of a key of the row with that id, or of the row itself.
    pub(crate) fn of(&self, table: &str, id: &str, key: &str) -> Range<usize> {
        self.first(table, |row| row.word("id") == id).map_or(0..0, |row| row.span_of(key))
    }

    /// Returns the last row of the table that the question picks.
    pub(crate) fn last(&self, table: &str, picks: impl Fn(&Row) -> bool) -> Option<&Row> {
        self.walked.tables.get(table)?.iter().rev().find(|row| picks(row))
    }

    /// Returns the first row of the table that the question picks.
    pub(crate) fn first(&self, table: &str, picks: impl Fn(&Row) -> bool) -> Option<&Row> {
        self.walked.tables.get(table)?.iter().find(|row| picks(row))
    }
}

/// Returns whether two lists, where an empty one means all, have something in common.
pub(crate) fn together(a: &[String], b: &[String]) -> bool {
    a.is_empty() || b.is_empty() || a.iter().any(|name| b.contains(name))
}

/// Returns the events and divisions of the book that a rule covers, each division where it
/// competes.
pub(crate) fn pairs<'a>(
    book: &'a Book,
    scope: &'a Scope,
) -> impl Iterator<Item = (&'a str, &'a str)> {
    let events = book.events.iter().filter(|event| scope.covers_event(&event.id));
    events.flat_map(|event| {
        let divisions = book.divisions_of(&event.id);
        let covered = divisions.filter(|division| scope.covers_division(&division.id));
        covered.map(|division| (event.id.as_str(), division.id.as_str()))
    })
}
