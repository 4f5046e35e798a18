//! The tables of a rule book and their keys, by subject.

mod base;
mod common;
mod cost;
mod credit;
mod limits;
mod score;

use super::rows::field::{Many, TableSpec};

/// The tables of a rule book in the order in which they are read best.
pub(crate) const TABLES: &[TableSpec] = &[
    TableSpec { key: "book", many: Many::One, help: "Which book this is.", fields: base::BOOK },
    TableSpec {
        key: "division",
        many: Many::Any,
        help: "A level of the programme, easiest first.",
        fields: base::DIVISION,
    },
    TableSpec { key: "event", many: Many::Any, help: "An apparatus.", fields: base::EVENT },
    TableSpec {
        key: "class",
        many: Many::Any,
        help: "A class of elements, lowest first.",
        fields: base::CLASS,
    },
    TableSpec {
        key: "scoring",
        many: Many::Any,
        help: "How the score of an event is built.",
        fields: score::SCORING,
    },
    TableSpec {
        key: "value_parts",
        many: Many::Any,
        help: "How many elements of each class a routine needs.",
        fields: score::VALUE_PARTS,
    },
    TableSpec {
        key: "requirement",
        many: Many::Any,
        help: "Something a routine must show.",
        fields: credit::REQUIREMENT,
    },
    TableSpec {
        key: "connection",
        many: Many::Any,
        help: "Elements that follow one another and add to the score.",
        fields: credit::CONNECTION,
    },
    TableSpec {
        key: "text",
        many: Many::Any,
        help: "The elements of a compulsory routine in their order.",
        fields: credit::TEXT,
    },
    TableSpec {
        key: "angle",
        many: Many::Any,
        help: "What is asked of an angle.",
        fields: cost::ANGLE,
    },
    TableSpec {
        key: "fault",
        many: Many::Any,
        help: "A fault that a judge writes down.",
        fields: cost::FAULT,
    },
    TableSpec {
        key: "when",
        many: Many::Any,
        help: "What follows from a fall, a spot, an extra swing, a stop, a contact, a landing.",
        fields: cost::WHEN,
    },
    TableSpec {
        key: "replace",
        many: Many::Any,
        help: "A rule that stands in the place of others at the same element.",
        fields: limits::REPLACE,
    },
    TableSpec {
        key: "cap",
        many: Many::Any,
        help: "A limit on what a group of rules can cost.",
        fields: limits::CAP,
    },
    TableSpec {
        key: "merge",
        many: Many::Any,
        help: "Small faults of one rule that together make a larger one at the same element.",
        fields: limits::MERGE,
    },
    TableSpec {
        key: "too_many",
        many: Many::Any,
        help: "Elements that may be shown only so often.",
        fields: cost::TOO_MANY,
    },
    TableSpec {
        key: "too_few",
        many: Many::Any,
        help: "What an exercise with too few different elements costs.",
        fields: credit::TOO_FEW,
    },
    TableSpec { key: "time", many: Many::Any, help: "A limit of time.", fields: cost::TIME },
    TableSpec {
        key: "bonus",
        many: Many::Any,
        help: "Something that adds to the score.",
        fields: credit::BONUS,
    },
    TableSpec {
        key: "attempts",
        many: Many::Any,
        help: "How the scores of several attempts become one.",
        fields: score::ATTEMPTS,
    },
    TableSpec {
        key: "panel",
        many: Many::Any,
        help: "How the scores of several judges become one.",
        fields: score::PANEL,
    },
    TableSpec {
        key: "element",
        many: Many::Any,
        help: "A skill that has a name; a vault carries its own value.",
        fields: base::ELEMENT,
    },
];
