//! Every typed key of a book, tried.

use crate::{
    marks::Sheaf,
    rulebook::{Book, Diagnostic, OtherTable, Sifted, TypedBook, TypedKey, TypedRow},
    units::TimeBase,
};

use super::{
    chance::Chance,
    change::changed,
    draw::plan,
    ingredients::{self, Ingredients},
    judges::{Come, Scores},
    outcome::{Outcome, outcome},
    plan::Plan,
};

/// Routines that are drawn anew for one row, before those in which it acts are changed.
const DRAWN: usize = 150;
/// Routines on which one row is tried, at most.
const ROUTINES: usize = 3000;
/// Routines in which a row acts, kept to be changed.
const KEPT: usize = 50;
/// Events and divisions on which one row is tried, at most.
const PLACES: usize = 24;
/// Sheets that are made for one book, at most.
const EFFORT: usize = 400_000;

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
        let tried = tries((&typed, &mut book), &row, (seed as u64, &mut open), &mut effort);
        checked.acting += all - open.len();
        for (key, _) in open {
            if tried == ROUTINES { sifted.idle(&key, tried) } else { checked.open += 1 }
        }
    }
    checked.warnings = sifted.finish();
    checked
}

/// Takes out of the open keys those that change what a routine comes to; returns how many were tried.
///
/// Routines are drawn; those in which the row acts at all are kept, and changed a little, again and
/// again: what it takes to see one of its keys act is often near them.
fn tries(
    (typed, book): (&TypedBook, &mut Book),
    row: &TypedRow,
    (seed, open): (u64, &mut Vec<(TypedKey, Vec<OtherTable>)>),
    effort: &mut usize,
) -> usize {
    let of: Vec<Ingredients<'_>> =
        places(typed, row).into_iter().map(|at| ingredients::of(typed, row, at)).collect();
    let Some(base) = TimeBase::new(1, 1000).filter(|_| !of.is_empty()) else { return 0 };
    let mut chance = Chance::new(seed);
    let mut without = typed.without(row);
    let mut kept: Vec<(usize, Plan)> = Vec::new();
    let mut tried = 0;
    while tried < ROUTINES && *effort < EFFORT && !open.is_empty() {
        let (place, asked) = if matches!(row.table, "panel" | "attempts") {
            let place = tried % of.len();
            (place, Asked::Scores(Scores::draw(&mut chance), (of[place].event, of[place].division)))
        } else {
            let near = if tried < DRAWN || chance.once_in(6) { None } else { chance.pick(&kept) };
            let (place, plan) = match near {
                Some((place, near)) => (*place, changed(&mut chance, &of[*place], near)),
                None => (tried % of.len(), plan(&mut chance, &of[tried % of.len()])),
            };
            (place, Asked::Routine(Box::new(plan.sheaf(base)), plan))
        };
        tried += 1;
        let mut acts = |other: &mut OtherTable, was: &Said| {
            *effort += 1;
            other.under(book, |book| asked.of(book)) != *was
        };
        let was = asked.of(&typed.book);
        let mut is_kept = without.as_mut().is_some_and(|without| acts(without, &was));
        open.retain_mut(|(_, others)| {
            let is_seen = others.iter_mut().any(|other| acts(other, &was));
            is_kept |= is_seen;
            !is_seen
        });
        if let (true, Asked::Routine(_, plan)) = (is_kept, asked) {
            if kept.len() < KEPT {
                kept.push((place, plan));
            } else {
                kept[chance.below(KEPT)] = (place, plan);
            }
        }
    }
    tried
}

/// What a book is asked: what a routine comes to, or the scores of judges together.
enum Asked<'b> {
    Routine(Box<Sheaf>, Plan),
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
            Self::Routine(sheaf, _) => Said::Routine(outcome(book, sheaf)),
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
