//! One thing that the text may mean.

use crate::{
    marks::{CallAnswer, Quantity, What},
    units::Magnitude,
};

/// What is put down when an offer is taken.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Entry {
    /// A mark at the frame on screen, with a remark that may be empty.
    Mark(What, String),
    /// A stated value for what a rule asks of the chosen element.
    Reading {
        /// What was measured.
        quantity: Quantity,
        /// Its value.
        value: Magnitude,
        /// Its standard uncertainty.
        u: Magnitude,
    },
    /// A decision where a rule asks.
    Call {
        /// Id of the rule.
        rule: String,
        /// The decision.
        answer: CallAnswer,
    },
}

/// One thing that the text may mean.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Offer {
    /// What is put down.
    pub entry: Entry,
    /// What it is, in words.
    pub label: String,
    /// Class, shorthand, amount: what tells it from its neighbours.
    pub aside: String,
    /// Whether the division may use it.
    pub allowed: bool,
}

/// Why nothing can be offered, in a sentence that says what to do.
pub(crate) type Hint = String;

/// How well something fits; the lower the better.
pub(super) type Rank = u8;
