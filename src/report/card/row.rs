//! One rule on a card, and the words that several rules share.

use crate::rulebook::{Angle, Counts, Credit};

/// One part of a card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CardSection {
    /// Its heading.
    pub title: &'static str,
    /// Its rows in the book's order.
    pub rows: Vec<CardRow>,
}

/// One rule on a card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CardRow {
    /// How a judge writes it; empty where the book has none.
    pub shorthand: String,
    /// What it is.
    pub label: String,
    /// What it asks or costs.
    pub says: String,
    /// Page in the club's own printed book.
    pub page: String,
    /// The angle it asks for, for its figure.
    pub angle: Option<Angle>,
}

/// Returns a row for each rule.
pub(super) fn rows<'a, T: 'a>(rules: Vec<&'a T>, row: impl Fn(&'a T) -> CardRow) -> Vec<CardRow> {
    rules.into_iter().map(row).collect()
}

/// Returns a row without a figure.
pub(super) fn row(shorthand: &str, label: &str, says: &str, page: &str) -> CardRow {
    let own = str::to_owned;
    let (shorthand, label) = (own(shorthand), own(label));
    CardRow { shorthand, label, says: own(says), page: own(page), angle: None }
}

/// Returns the kinds of credit in words.
pub(super) fn credit(gates: &[Credit]) -> String {
    let word = |credit: &Credit| match credit {
        Credit::ValuePart => "value part",
        Credit::Requirement => "requirement",
        Credit::Connection => "connection",
    };
    gates.iter().map(word).collect::<Vec<_>>().join(", ")
}

/// Returns how often an amount is taken, in words that follow it.
pub(super) const fn times(counts: Counts) -> &'static str {
    match counts {
        Counts::Each => "",
        Counts::OncePerElement => ", once per element",
        Counts::OncePerPhase => ", once per phase",
        Counts::Once => ", once",
    }
}
