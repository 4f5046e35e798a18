//! Places of rules in the file, and what their scopes have in common.

use std::ops::Range;

use crate::{
    rulebook::{
        keys::Scope,
        kinds::rule::Worths,
        model::book::Book,
        rows::{Row, Walked},
    },
    units::Points,
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

    /// Returns the rows of the table in the order of the file.
    pub(crate) fn rows(&self, table: &str) -> &[Row] {
        self.walked.tables.get(table).map_or(&[], Vec::as_slice)
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

/// Returns whether a row holds on the event in the division.
pub(crate) fn covers(row: &Row, (event, division): (&str, &str)) -> bool {
    let has = |key, name: &str| {
        let names = row.texts(key);
        names.is_empty() || names.iter().any(|own| own == name)
    };
    has("events", event) && has("divisions", division)
}

/// What elements are worth where that makes no difference.
pub(crate) struct Worthless;

impl Worths for Worthless {
    fn of(&self, _: &str) -> Points {
        Points::ZERO
    }

    fn most(&self) -> Points {
        Points::ZERO
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
