//! Every typed key of a book, tried.

use crate::{
    marks::Sheaf,
    rulebook::{Book, Diagnostic, OtherTable, Sifted, TypedBook, TypedKey, TypedRow},
    units::TimeBase,
};

use super::{
    chance::Chance,
    draw::routine,
    ingredients::{self, Ingredients},
    judges::{Come, Scores},
    outcome::{Outcome, outcome},
};

/// Routines that are drawn for one row, at most.
const ROUTINES: usize = 500;
/// Routines that are drawn where it takes a rare coincidence to see what is left act.
const RARE: usize = 80;
/// As often must a row be seen to change a score before a key of it is told that never did.
const ENOUGH: usize = 60;
/// Events and divisions on which one row is tried, at most.
const PLACES: usize = 24;
/// Sheets that are made for one book, at most.
const EFFORT: usize = 60_000;

/// What came of trying the keys of a book.
#[derive(Debug, Default)]
pub struct Checked {
    /// The keys of which no routine was found whose score they change.
    pub warnings: Vec<Diagnostic>,
    /// How many keys were found to change a score.
    pub acting: usize,
    /// How many say what would hold without them, or leave nothing else to say.
    pub plain: usize,
    /// How many were not found to, in too few routines for saying that they never do.
    pub open: usize,
}

impl Checked {
    /// Returns in one sentence what came of it.
    pub fn words(&self) -> String {
        let Self { acting, plain, open, warnings } = self;
        let idle = warnings.len();
        format!(
            "Every key was tried on drawn routines: {acting} change a score, {idle} were not seen to, {plain} \
             say what holds anyway, and of {open} too few routines were tried to tell."
        )
    }
}

/// Tries every key that a person typed in the book of the text; nothing is tried of one with errors.
/// `find` returns the text of a book that it is like.
pub fn check(text: &str, find: &dyn Fn(&str) -> Option<String>) -> Checked {
    let mut checked = Checked::default();
    let Some(typed) = TypedBook::read(text, find) else { return checked };
    let mut sifted = Sifted::new(text);
    let mut effort = 0;
    let mut book = typed.book.clone();
    for (seed, row) in typed.rows().into_iter().enumerate() {
        let mut open: Vec<(TypedKey, Vec<OtherTable>)> = Vec::new();
        for key in typed.keys(&row) {
            let others = typed.others(&row, &key);
            if others.is_empty() { checked.plain += 1 } else { open.push((key, others)) }
        }
        let all = open.len();
        let is_rare = open.iter().any(|(key, _)| key.is_rare() && !key.is_scope());
        let tried = tries((&typed, &mut book), &row, (seed as u64, &mut open), &mut effort);
        checked.acting += all - open.len();
        for (key, _) in open {
            if tried.is_enough(is_rare) && !key.is_rare() {
                sifted.idle(&key, tried.routines);
            } else {
                checked.open += 1;
            }
        }
    }
    checked.warnings = sifted.finish();
    checked
}

/// What a row was tried on.
#[derive(Default)]
struct Tried {
    routines: usize,
    /// Of these, in how many a key of the row that is known to act did.
    seen: usize,
}

impl Tried {
    /// Returns whether so much was tried that a key which never acted never does: the row itself acted
    /// often enough, or, if that takes no rare coincidence, not once in all routines.
    fn is_enough(&self, is_rare: bool) -> bool {
        self.seen >= ENOUGH || self.seen == 0 && self.routines == ROUTINES && !is_rare
    }
}

/// Takes out of the open keys those that change what a drawn routine comes to.
fn tries(
    (typed, book): (&TypedBook, &mut Book),
    row: &TypedRow,
    (seed, open): (u64, &mut Vec<(TypedKey, Vec<OtherTable>)>),
    effort: &mut usize,
) -> Tried {
    let mut tried = Tried::default();
    let of: Vec<Ingredients<'_>> =
        places(typed, row).into_iter().map(|at| ingredients::of(typed, row, at)).collect();
    let Some(base) = TimeBase::new(1, 1000).filter(|_| !of.is_empty()) else { return tried };
    let mut chance = Chance::new(seed);
    let mut known: Option<OtherTable> = None;
    while tried.routines < ROUTINES && *effort < EFFORT && !open.is_empty() && tried.seen < ENOUGH {
        if tried.routines >= RARE && open.iter().all(|(key, _)| key.is_rare()) {
            break;
        }
        let from = &of[tried.routines % of.len()];
        tried.routines += 1;
        let asked = if matches!(row.table, "panel" | "attempts") {
            Asked::Scores(Scores::draw(&mut chance), (from.event, from.division))
        } else {
            Asked::Routine(Box::new(routine(&mut chance, from, base)))
        };
        let was = asked.of(book);
        *effort += 1;
        if let Some(known) = &mut known {
            *effort += 1;
            tried.seen += usize::from(known.under(book, |book| asked.of(book)) != was);
        }
        open.retain_mut(|(_, others)| {
            let acts = others.iter_mut().position(|other| {
                *effort += 1;
                other.under(book, |book| asked.of(book)) != was
            });
            if let (Some(at), None) = (acts, &known) {
                known = Some(others.swap_remove(at));
            }
            acts.is_none()
        });
    }
    tried
}

/// What a book is asked: what a routine comes to, or the scores of judges together.
enum Asked<'b> {
    Routine(Box<Sheaf>),
    Scores(Scores, (&'b str, &'b str)),
}

/// What it says.
#[derive(PartialEq)]
enum Said {
    Routine(Outcome),
    Scores(Come),
}

impl Asked<'_> {
    fn of(&self, book: &Book) -> Said {
        match self {
            Self::Routine(sheaf) => Said::Routine(outcome(book, sheaf)),
            Self::Scores(scores, at) => Said::Scores(scores.come(book, *at)),
        }
    }
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
