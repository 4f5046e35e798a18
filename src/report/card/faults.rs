//! The faults of a card: only what differs from the other divisions, and what is not counted here.

use std::{collections::BTreeSet, fmt::Write as _};

use super::{
    limits::OFF_THE_WHOLE,
    row::{CardRow, credit, row, times},
};
use crate::rulebook::{Book, Fault, FaultAmount, When};

/// Returns a row for every fault that costs something else in another division of the event, and
/// one that says how many are the same everywhere.
pub(super) fn faults(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let (mut rows, mut same) = (Vec::new(), 0);
    for any in book.faults.iter().filter(|fault| fault.scope.covers_event(event)) {
        if !seen.insert(&any.id) {
            continue;
        }
        let in_division = |division: &str| {
            let here = |fault: &&Fault| fault.id == any.id && fault.scope.covers(event, division);
            book.faults.iter().find(here)
        };
        let own = in_division(division);
        let said = |fault: Option<&Fault>| fault.map(says);
        let is_same =
            book.divisions_of(event).all(|other| said(in_division(&other.id)) == said(own));
        match own {
            Some(fault) if fault.void => {}
            _ if is_same => same += 1,
            Some(fault) => rows.push(fault_row(fault)),
            None => rows.push(row(&any.shorthand, &any.label, "not counted here", &any.page)),
        }
    }
    if same > 0 {
        let others = if rows.is_empty() { "" } else { "more " };
        let label = format!("{same} {others}as in every division of this event");
        rows.push(row("", &label, "", ""));
    }
    rows
}

/// Returns the faults that void the exercise.
pub(super) fn voids(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    let void = book.faults_of(event, division).into_iter().filter(|fault| fault.void);
    void.map(|fault| row(&fault.shorthand, &fault.label, "void", &fault.page)).collect()
}

/// Returns what falls, help and other marks cost here, and what only other divisions count.
pub(super) fn whens(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    let here = book.whens_of(event, division);
    let is_here = |when: &When| here.iter().any(|other| other.id == when.id);
    let mut rows: Vec<CardRow> =
        here.iter().filter(|when| !when.void).map(|it| when_row(it)).collect();
    let mut seen: BTreeSet<&str> = BTreeSet::new();
    let elsewhere = book.whens.iter().filter(|when| when.scope.covers_event(event));
    for when in elsewhere.filter(|when| !is_here(when)) {
        if seen.insert(&when.id) {
            rows.push(row(&when.shorthand, &when.label, "not counted here", &when.page));
        }
    }
    rows
}

fn fault_row(fault: &Fault) -> CardRow {
    row(&fault.shorthand, &fault.label, &says(fault), &fault.page)
}

fn says(fault: &Fault) -> String {
    let amount = match &fault.amount {
        FaultAmount::Flat(amount) => amount.short(),
        FaultAmount::UpTo { max, .. } => format!("up to {}", max.short()),
        FaultAmount::Choice(choice) => {
            let mut means = fault.means.iter();
            let amounts = choice.iter().map(|amount| match means.next() {
                Some(word) => format!("{} {word}", amount.short()),
                None => amount.short(),
            });
            amounts.collect::<Vec<_>>().join(" / ")
        }
        FaultAmount::OfValue(times) => format!("{} times its worth", times.short()),
    };
    let mut says = format!("{amount}{}", times(fault.counts));
    if !fault.removes.is_empty() {
        let _ = write!(says, ", no {}", credit(&fault.removes));
    }
    if fault.neutral {
        says.push_str(OFF_THE_WHOLE);
    }
    says
}

fn when_row(when: &When) -> CardRow {
    let mut says = format!("{}{}", when.amount.short(), times(when.counts));
    if !when.removes.is_empty() {
        let _ = write!(says, ", no {}", credit(&when.removes));
    }
    if when.neutral {
        says.push_str(OFF_THE_WHOLE);
    }
    row(&when.shorthand, &when.label, &says, &when.page)
}
