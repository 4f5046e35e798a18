//! An example for a book that is being written: what a routine of its elements comes to.

use std::collections::BTreeMap;

use crate::{
    marks::What,
    rulebook::Book,
    units::{Points, TimeBase},
};

use super::{
    outcome::outcome,
    plan::{Plan, Step},
};

/// Elements of the example, at most.
const MOST: usize = 60;

/// What an example comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// How many elements it has.
    pub elements: usize,
    /// Its start value.
    pub start: Option<Points>,
    /// Its score.
    pub score: Option<Points>,
}

/// Returns what a routine comes to that shows every element of the event which the division may use,
/// once each in the book's order, with nothing to take off.
pub fn example(book: &Book, event: &str, division: &str) -> Example {
    let allowed = book.elements_of(event).filter(|element| book.allowed(element, division));
    let steps: Vec<Step> = allowed
        .filter(|element| element.vault.is_none())
        .take(MOST)
        .map(|element| Step {
            what: What::Element { element: element.id.clone() },
            lasts: 400,
            gap: 600,
            read: Vec::new(),
        })
        .collect();
    let elements = steps.len();
    let (event, division) = (event.to_owned(), division.to_owned());
    let plan = Plan { event, division, steps, facts: BTreeMap::new(), end: None };
    let sheaf = TimeBase::new(1, 1000).map(|base| plan.sheaf(base));
    let came = sheaf.map(|sheaf| outcome(book, &sheaf));
    Example {
        elements,
        start: came.as_ref().and_then(|it| it.start),
        score: came.as_ref().and_then(|it| it.score),
    }
}
