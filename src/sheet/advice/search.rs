//! The search for changes of a routine: each is scored, and kept where it wins something.

use std::collections::BTreeMap;

use crate::{
    marks::{Id, Sheaf},
    rulebook::Book,
    sheet::{
        model::{Line, WinBack},
        score::{Tally, plain},
    },
    units::Points,
};

/// No more changes than this are tried for one thing that is missing or costs.
pub(crate) const TRIED: usize = 12;

/// The search for changes, with what was found.
pub(crate) struct Search<'a> {
    /// The rules.
    pub book: &'a Book,
    /// The routine as it is.
    pub sheaf: &'a Sheaf,
    /// What it comes to.
    pub shown: &'a Tally,
    found: Vec<WinBack>,
}

/// What a change is tried for.
#[derive(Clone, Copy)]
pub(crate) enum For<'f> {
    /// Whatever it brings.
    Anything,
    /// One more value part of the class.
    Part(&'f str),
    /// The requirement of that id.
    Requirement(&'f str),
}

impl For<'_> {
    fn is_won(self, shown: &Tally, changed: &Tally) -> bool {
        match self {
            Self::Anything => true,
            Self::Part(class) => {
                let shown_of = |tally: &Tally| {
                    tally
                        .value_parts
                        .iter()
                        .filter(|p| p.class == class)
                        .map(|p| p.shown)
                        .sum::<u32>()
                };
                shown_of(changed) > shown_of(shown)
            }
            Self::Requirement(id) => {
                let missing = |tally: &Tally| {
                    tally.requirements.iter().find(|line| line.id == id).map(|line| line.amount)
                };
                missing(changed) < missing(shown)
            }
        }
    }
}

impl<'a> Search<'a> {
    /// Begins the search.
    pub(crate) fn new(book: &'a Book, sheaf: &'a Sheaf, shown: &'a Tally) -> Self {
        Self { book, sheaf, shown, found: Vec::new() }
    }

    /// Scores the changed routine and keeps the change if it raises something and wins what it is
    /// tried for; returns whether it does.
    pub(crate) fn tries(
        &mut self,
        changed: Sheaf,
        (change, learning): (String, bool),
        wanted: For<'_>,
    ) -> bool {
        let (tally, shown) = (plain(self.book, &changed), self.shown);
        let (was, is) = (worth(shown), worth(&tally));
        let falls = is.0 < was.0 || is.1 < was.1;
        if falls || is == was || !wanted.is_won(shown, &tally) {
            return false;
        }
        if !self.found.iter().any(|known| known.change == change) {
            self.found.push(WinBack {
                change,
                wins: wins(shown, &tally),
                learning,
                start_value: tally.start_value,
                score: tally.counted(),
                changed: Box::new(changed),
            });
        }
        true
    }

    /// Returns what was found, in the order in which it was tried.
    pub(crate) fn into_found(self) -> Vec<WinBack> {
        self.found
    }
}

/// Returns what a change may not lower: start value and score, nothing where void.
fn worth(tally: &Tally) -> (Points, Option<Points>) {
    (tally.start_value, tally.counted())
}

/// Returns what the changed routine has that the one shown has not.
fn wins(shown: &Tally, changed: &Tally) -> Vec<String> {
    let mut wins = Vec::new();
    for (was, is) in shown.requirements.iter().zip(&changed.requirements) {
        if is.amount < was.amount {
            wins.push(is.label.clone());
        }
    }
    for (was, is) in shown.value_parts.iter().zip(&changed.value_parts) {
        if is.shown > was.shown {
            wins.push(format!("value part, {}", is.label));
        }
    }
    let (was, is) = (taken(shown), taken(changed));
    for line in &shown.deductions {
        let name = format!("no {}", line.label);
        let left = |taken: &Taken<'_>| taken.get(&of(line)).copied().unwrap_or_default();
        if left(&is) < left(&was) && !wins.contains(&name) {
            wins.push(name);
        }
    }
    wins
}

/// What was taken off, by rule and mark.
type Taken<'t> = BTreeMap<(&'t str, Option<Id>), Points>;

fn taken(tally: &Tally) -> Taken<'_> {
    let mut taken = Taken::new();
    for line in &tally.deductions {
        *taken.entry(of(line)).or_default() += line.amount;
    }
    taken
}

fn of(line: &Line) -> (&str, Option<Id>) {
    (&line.rule, line.mark)
}
