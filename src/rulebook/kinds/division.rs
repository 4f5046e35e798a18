//! A level of the programme.

use crate::rulebook::{
    keys::{Key, Part, Settle, Table, defines, names, numbers, text},
    rows::{Field, Findings, Row, Space},
};

/// A level of the programme.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Division {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Highest class that counts; a higher one is not allowed. Empty when any counts.
    pub highest_class: String,
    /// Place of `highest_class` in the order of classes.
    pub highest_rank: Option<usize>,
}

const ID: Key<String> = Key::must("id", defines(Space::Division), "Short name.");
const NAME: Key<String> = Key::must("name", text(), "Its name.");
const HIGHEST_CLASS: Key<String> =
    Key::may("highest_class", names(Space::Class), "Elements above this class are not allowed.");
// The numbers are looked up where a rule calls them, and so is whose they are.
const LIKE: Key<String> = Key::may(
    "like",
    names(Space::Division),
    "Takes the numbers of this division that it does not set.",
);
const NUMBERS: Key<()> =
    Key::may("numbers", numbers(), "Numbers that rules call by name, such as leap = 100.");

impl Part for Division {
    const FIELDS: &'static [Field] = &[
        ID.fields()[0],
        NAME.fields()[0],
        HIGHEST_CLASS.fields()[0],
        LIKE.fields()[0],
        NUMBERS.fields()[0],
    ];

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        Self {
            id: Settle::settle(ID.value(row, findings)),
            name: Settle::settle(NAME.value(row, findings)),
            highest_class: Settle::settle(HIGHEST_CLASS.value(row, findings)),
            highest_rank: None,
        }
    }
}

impl Table for Division {
    const KEY: &'static str = "division";
    const HELP: &'static str = "A level of the programme, easiest first.";
}
