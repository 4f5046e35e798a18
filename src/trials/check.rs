//! Every typed key of a book, tried.

use crate::{
    marks::Sheaf,
    rulebook::{Book, Diagnostic, Sifted, TypedBook, TypedKey, TypedRow},
    units::{TimeBase, counted},
};

use super::{
    chance::Chance,
    draw::routine,
    ingredients::{self, Ingredients},
    judges::Scores,
    outcome::outcome,
};

/// Routines that are drawn for one row, at most.
const ROUTINES: usize = 600;
/// Events and divisions on which one row is tried, at most.
const PLACES: usize = 24;
/// Routines that are scored for one book, at most.
const EFFORT: usize = 400_000;

/// What came of trying the keys of a book.
#[derive(Debug, Default)]
pub struct Checked {
    /// The keys of which no routine was found whose score they change.
    pub warnings: Vec<Diagnostic>,
    /// How many keys were found to change a score.
    pub acting: usize,
    /// How many were not tried, because the book is too large or nothing else could stand there.
    pub untried: usize,
}

impl Checked {
    /// Returns in one sentence how many keys were tried, and how far.
    pub fn words(&self) -> String {
        let idle = self.warnings.len();
        let untried = match self.untried {
            0 => String::new(),
            count => format!(
                " {} not tried.",
                if count == 1 { "1 was".to_owned() } else { format!("{count} were") }
            ),
        };
        let tried = counted(self.acting + idle, "key");
        format!(
            "Tried on drawn routines, {ROUTINES} for one row at most: {tried}, of which {} change a \
             score.{untried}",
            self.acting
        )
    }
}

/// Tries every key that a person typed in the book of the text; nothing is tried of one with errors.
/// `find` returns the text of a book that it is like.
pub fn check(text: &str, find: &dyn Fn(&str) -> Option<String>) -> Checked {
    let mut checked = Checked::default();
    let Some(mut typed) = TypedBook::read(text, find) else { return checked };
    let mut sifted = Sifted::new(text);
    let mut effort = 0;
    for (seed, row) in typed.rows().into_iter().enumerate() {
        let keys = typed.keys(&row);
        let mut open: Vec<(TypedKey, Vec<Book>)> = Vec::new();
        for key in keys {
            let others = if effort < EFFORT { typed.others(&row, &key) } else { Vec::new() };
            if others.is_empty() { checked.untried += 1 } else { open.push((key, others)) }
        }
        let all = open.len();
        let tried = tries(&typed, &row, (seed as u64, &mut open), &mut effort);
        checked.acting += all - open.len();
        for (key, _) in open {
            if effort >= EFFORT {
                checked.untried += 1;
            } else {
                sifted.idle(&key, tried);
            }
        }
    }
    checked.warnings = sifted.finish();
    checked
}

/// Takes out of the open keys those that change what a drawn routine comes to; returns how many
/// routines were drawn.
fn tries(
    typed: &TypedBook,
    row: &TypedRow,
    (seed, open): (u64, &mut Vec<(TypedKey, Vec<Book>)>),
    effort: &mut usize,
) -> usize {
    let places = places(typed, row);
    let Some(base) = TimeBase::new(1, 1000) else { return 0 };
    let of: Vec<Ingredients<'_>> =
        places.iter().map(|at| ingredients::of(typed, row, *at)).collect();
    if of.is_empty() {
        return 0;
    }
    let is_of_judges = matches!(row.table, "panel" | "attempts");
    let mut chance = Chance::new(seed);
    for drawn in 0..ROUTINES {
        if open.is_empty() || *effort >= EFFORT {
            return drawn;
        }
        let from = &of[drawn % of.len()];
        if is_of_judges {
            let scores = Scores::draw(&mut chance);
            let at = (from.event, from.division);
            let was = scores.come(&typed.book, at);
            open.retain(|(_, others)| others.iter().all(|book| scores.come(book, at) == was));
        } else {
            let sheaf = routine(&mut chance, from, base);
            *effort += tried(&typed.book, &sheaf, open);
        }
    }
    ROUTINES
}

/// Takes the keys out that change what the routine comes to; returns how often it was scored.
fn tried(book: &Book, sheaf: &Sheaf, open: &mut Vec<(TypedKey, Vec<Book>)>) -> usize {
    let was = outcome(book, sheaf);
    let mut scored = 1;
    open.retain(|(_, others)| {
        others.iter().all(|other| {
            scored += 1;
            outcome(other, sheaf) == was
        })
    });
    scored
}

/// Returns the events and divisions on which the row holds, spread over all where they are many.
fn places<'b>(typed: &'b TypedBook, row: &TypedRow) -> Vec<(&'b str, &'b str)> {
    let book = &typed.book;
    let events = [typed.names(row, "events"), typed.names(row, "event")].concat();
    let divisions = [typed.names(row, "divisions"), typed.names(row, "selected")].concat();
    let own = typed.names(row, "id");
    let mut places = Vec::new();
    for event in &book.events {
        let is_own = row.table == "event" && !own.contains(&event.id);
        if is_own || !events.is_empty() && !events.contains(&event.id) {
            continue;
        }
        for division in book.divisions_of(&event.id) {
            let is_other = row.table == "division" && !typed.is_like(&division.id, &own);
            if !is_other && (divisions.is_empty() || divisions.contains(&division.id)) {
                places.push((event.id.as_str(), division.id.as_str()));
            }
        }
    }
    let step = places.len().div_ceil(PLACES).max(1);
    places.into_iter().step_by(step).collect()
}
