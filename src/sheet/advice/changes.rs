//! Changes of a routine that are tried: what is written down differently.

use std::collections::BTreeSet;

use crate::{
    marks::{At, Call, CallAnswer, Id, Mark, Seen, Sheaf, What},
    rulebook::{Book, Element},
};

/// Writes down that a person called the rule met at the element.
pub(crate) fn reached(sheaf: &mut Sheaf, of: Id, rule: &str) {
    let at = sheaf.mark(of).map_or(At::Place(0), |mark| mark.at);
    sheaf.calls.retain(|call| call.of != of || call.asks != rule);
    let id = next_id(sheaf);
    sheaf.calls.push(Call { id, of, asks: rule.to_owned(), answer: CallAnswer::Met, at });
}

/// Takes marks out, with everything that hangs under them.
pub(crate) fn left_out(sheaf: &mut Sheaf, ids: &BTreeSet<Id>) {
    let hangs = |of: Option<Id>| of.is_some_and(|of| ids.contains(&of));
    sheaf.marks.retain(|mark| !ids.contains(&mark.id) && !hangs(mark.of));
    sheaf.readings.retain(|reading| !ids.contains(&reading.of));
    sheaf.calls.retain(|call| !ids.contains(&call.of));
}

/// Adds an element after the mark, or at the end, shown as the book asks.
pub(crate) fn added(book: &Book, sheaf: &mut Sheaf, element: &Element, after: Option<Id>) {
    let place = after.and_then(|id| sheaf.mark(id)).map(|mark| mark.at);
    let last = || sheaf.in_order().last().map(|mark| mark.at);
    let at = place.or_else(last).unwrap_or(At::Place(0));
    let id = next_id(sheaf);
    let what = What::Element { element: element.id.clone() };
    sheaf.marks.push(Mark { id, at, what, seen: Seen::Yes, of: None, note: String::new() });
    as_asked(book, sheaf, element, id);
}

/// Puts another element in the place of one, shown as the book asks.
pub(crate) fn replaced(book: &Book, sheaf: &mut Sheaf, id: Id, element: &Element) {
    sheaf.readings.retain(|reading| reading.of != id);
    sheaf.calls.retain(|call| call.of != id);
    if let Some(mark) = sheaf.marks.iter_mut().find(|mark| mark.id == id) {
        mark.what = What::Element { element: element.id.clone() };
    }
    as_asked(book, sheaf, element, id);
}

fn as_asked(book: &Book, sheaf: &mut Sheaf, element: &Element, id: Id) {
    let (event, division) = (sheaf.routine.event.clone(), sheaf.routine.division.clone());
    for rule in book.angles_of(element, &event, &division) {
        reached(sheaf, id, &rule.id);
    }
}

fn next_id(sheaf: &Sheaf) -> Id {
    Id(sheaf.highest_id().0 + 1)
}
