//! One thing that the text may mean.

use super::vocabulary::{Amounts, ElementWord, FaultWord};
use crate::{
    marks::{CallAnswer, Quantity, What},
    units::{Magnitude, Points},
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

impl Offer {
    /// Offers an element.
    pub(super) fn of_element(element: &ElementWord) -> Self {
        Self {
            entry: Entry::Mark(What::Element { element: element.id.clone() }, String::new()),
            label: element.name.clone(),
            aside: element.aside(),
            allowed: element.allowed,
        }
    }

    /// Offers a fault at one amount; none where the book leaves no choice.
    pub(super) fn of_fault(fault: &FaultWord, amount: Option<Points>, aside: String) -> Self {
        Self {
            entry: Entry::Mark(What::Fault { fault: fault.id.clone(), amount }, String::new()),
            label: fault.name.clone(),
            aside,
            allowed: true,
        }
    }

    /// Offers a fault with its amount where the book leaves no choice, once for each choice where
    /// it leaves a few.
    pub(super) fn all_of_fault(fault: &FaultWord) -> Vec<Self> {
        match &fault.amounts {
            Amounts::Flat(amount) => vec![Self::of_fault(fault, None, amount.short())],
            own @ Amounts::OfValue(_) => vec![Self::of_fault(fault, None, own.says())],
            choice => {
                let each = |amount: Points| Self::of_fault(fault, Some(amount), amount.short());
                choice.all().into_iter().map(each).collect()
            }
        }
    }
}

/// Why nothing can be offered, in a sentence that says what to do.
pub(crate) type Hint = String;

/// How well something fits; the lower the better.
pub(super) type Rank = u8;
