//! Which book it is.

use crate::rulebook::{
    keys::{Key, Part, Settle, date, one_of, text, texts, words},
    rows::{Field, Findings, Many, Row, TableSpec},
};

/// The head of a book as it is written.
pub(crate) struct Head {
    /// Id that marks files name.
    pub id: String,
    /// Title in the programme's words.
    pub title: String,
    /// Edition.
    pub edition: String,
    /// First day of validity; empty when open.
    pub valid_from: String,
    /// Last day of validity; empty when open.
    pub valid_to: String,
    /// How open calls are decided for the score that is shown.
    pub open_calls: OpenCalls,
}

words! {
    /// How open calls are decided for the score that is shown; the range holds both ways.
    #[derive(Default)]
    pub enum OpenCalls {
        /// In the athlete's favour.
        #[default]
        ForTheAthlete = "for-the-athlete",
        /// As measured; without a reading in the athlete's favour.
        AsMeasured = "as-measured",
    }
}

/// The table `[book]`.
pub(crate) const HEAD: TableSpec =
    TableSpec { key: "book", many: Many::One, help: "Which book this is.", fields: Head::FIELDS };

const ID: Key<String> = Key::must("id", text(), "Short name that marks files keep.");
const TITLE: Key<String> = Key::must("title", text(), "Name of the programme.");
const EDITION: Key<String> = Key::must("edition", text(), "Edition, as printed on the book.");
const VALID_FROM: Key<String> = Key::may("valid_from", date(), "First day on which it holds.");
const VALID_TO: Key<String> = Key::may("valid_to", date(), "Last day on which it holds.");
const OPEN_CALLS: Key<OpenCalls> = Key::may(
    "open_calls",
    one_of(),
    "How an open call counts in the score; the range shows both ways.",
);
// What is said of other books is asked for before there is a book.
const LIKE: Key<String> = Key::may(
    "like",
    text(),
    "A book that this one is like, except for what stands here: shipped, or a file beside it.",
);
const WITHOUT: Key<Vec<String>> =
    Key::may("without", texts(), "Ids of that book that are left out.");
const NOTE: Key<String> = Key::may("note", text(), "Anything to say about the book.");

impl Part for Head {
    const FIELDS: &'static [Field] = &[
        ID.fields()[0],
        TITLE.fields()[0],
        EDITION.fields()[0],
        VALID_FROM.fields()[0],
        VALID_TO.fields()[0],
        OPEN_CALLS.fields()[0],
        LIKE.fields()[0],
        WITHOUT.fields()[0],
        NOTE.fields()[0],
    ];

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let head = Self {
            id: Settle::settle(ID.value(row, findings)),
            title: Settle::settle(TITLE.value(row, findings)),
            edition: Settle::settle(EDITION.value(row, findings)),
            valid_from: Settle::settle(VALID_FROM.value(row, findings)),
            valid_to: Settle::settle(VALID_TO.value(row, findings)),
            open_calls: Settle::settle(OPEN_CALLS.value(row, findings)),
        };
        if !head.valid_to.is_empty() && head.valid_to < head.valid_from {
            let message = "the book ends before it begins".to_owned();
            let remedy = "valid_to is the last day of validity";
            findings.error(&row.span_of("valid_to"), message, remedy);
        }
        head
    }
}
