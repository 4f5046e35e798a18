//! The smallest changes that would win something back, each tried for real.

use crate::{
    marks::{At, Id, Mark, Seen, Sheaf, What},
    rulebook::{Book, Element},
};

use super::{
    causes::call_met,
    model::{Decision, ElementLine, Status, WinBack},
    requirements::is_named,
    score::plain,
    tally::Tally,
};

/// Elements that carry one of these tags are never suggested.
const NEVER_SUGGESTED: [&str; 3] = ["flight", "dismount", "salto"];
/// No more changes than this are tried for one thing that is missing or costs.
const TRIED: usize = 12;
const READINESS: &str = "a coach decides readiness";

/// Returns the changes that raise the start value or the score.
pub fn win_back(book: &Book, sheaf: &Sheaf, shown: &Tally) -> Vec<WinBack> {
    let mut found = Vec::new();
    let missed = |line: &&ElementLine| {
        line.decisions.iter().any(|decision| decision.status == Some(Status::Missed))
    };
    for line in shown.elements.iter().filter(missed).take(TRIED) {
        reach_angles(book, sheaf, shown, line, &mut found);
    }
    add_elements(book, sheaf, shown, &mut found);
    leave_out(book, sheaf, shown, &mut found);
    found
}

/// Tries what it would bring if the angles that took an element's credit were reached.
fn reach_angles(
    book: &Book,
    sheaf: &Sheaf,
    shown: &Tally,
    line: &ElementLine,
    found: &mut Vec<WinBack>,
) {
    let missed = |decision: &&Decision| decision.status == Some(Status::Missed);
    for decision in line.decisions.iter().filter(missed) {
        let mut changed = sheaf.clone();
        call_met(&mut changed, line.mark, &decision.rule);
        let rule = book.angles.iter().find(|rule| rule.id == decision.rule);
        let side = rule.map_or("", |rule| rule.side.words());
        let (label, asked, target) = (&line.label, &decision.label, decision.target);
        let what = format!("{label}: reach \"{asked}\", {side} {target}; {READINESS}.");
        try_it(book, &changed, shown, what, found);
    }
}

/// Tries one more element for everything that is missing.
fn add_elements(book: &Book, sheaf: &Sheaf, shown: &Tally, found: &mut Vec<WinBack>) {
    let (event, division) = (sheaf.routine.event.as_str(), sheaf.routine.division.as_str());
    let done: Vec<&Element> =
        shown.elements.iter().filter_map(|line| book.element(event, &line.element)).collect();
    let candidates: Vec<&Element> = book
        .elements_of(event)
        .filter(|element| book.allowed(element, division) && may_be_suggested(element))
        .filter(|element| done.iter().all(|other| other.family != element.family))
        .collect();
    for part in shown.value_parts.iter().filter(|part| part.status != Status::Met) {
        let of_class = candidates.iter().copied().filter(|element| element.class == part.class);
        add_first(book, sheaf, shown, of_class, found);
    }
    let rules = book.requirements_of(event, division);
    for line in shown.requirements.iter().filter(|line| line.status != Status::Met) {
        let Some(rule) = rules.iter().find(|rule| rule.id == line.id) else { continue };
        let serving = candidates.iter().copied().filter(|element| is_named(rule, element));
        add_first(book, sheaf, shown, serving, found);
    }
}

fn may_be_suggested(element: &Element) -> bool {
    element.vault.is_none()
        && element.pair.is_empty()
        && !element.tags.iter().any(|tag| NEVER_SUGGESTED.contains(&tag.as_str()))
}

fn add_first<'a>(
    book: &Book,
    sheaf: &Sheaf,
    shown: &Tally,
    candidates: impl Iterator<Item = &'a Element>,
    found: &mut Vec<WinBack>,
) {
    for element in candidates.take(TRIED) {
        let what = format!("Add {}; {READINESS}.", element.name);
        if try_it(book, &with(book, sheaf, element), shown, what, found) {
            return;
        }
    }
}

/// Returns the routine with the element at its end, shown as the book asks.
fn with(book: &Book, sheaf: &Sheaf, element: &Element) -> Sheaf {
    let mut changed = sheaf.clone();
    let at = sheaf.in_order().last().map_or(At::Place(0), |last| last.at);
    let id = Id(sheaf.highest_id().0 + 1);
    let what = What::Element { element: element.id.clone() };
    changed.marks.push(Mark { id, at, what, seen: Seen::Yes, of: None, note: String::new() });
    for rule in book.angles_of(element, &sheaf.routine.event, &sheaf.routine.division) {
        call_met(&mut changed, id, &rule.id);
    }
    changed
}

/// Tries what it would bring to leave out an extra swing.
fn leave_out(book: &Book, sheaf: &Sheaf, shown: &Tally, found: &mut Vec<WinBack>) {
    let taken = shown.deductions.iter().filter(|line| line.status == Status::Taken);
    let swings = taken.filter_map(|line| {
        let mark = line.mark.and_then(|id| sheaf.mark(id))?;
        (mark.what == What::Swing).then_some((line, mark))
    });
    for (line, mark) in swings.take(TRIED) {
        let mut changed = sheaf.clone();
        changed.marks.retain(|other| other.id != mark.id);
        let what = format!("Leave out \"{}\". {}", line.label, line.reason);
        try_it(book, &changed, shown, what, found);
    }
}

/// Scores the changed routine and keeps the change if it raises something.
fn try_it(
    book: &Book,
    changed: &Sheaf,
    shown: &Tally,
    change: String,
    found: &mut Vec<WinBack>,
) -> bool {
    let tally = plain(book, changed);
    let raises = tally.start_value > shown.start_value || tally.counted() > shown.counted();
    if raises && !found.iter().any(|known| known.change == change) {
        found.push(WinBack { change, start_value: tally.start_value, score: tally.counted() });
    }
    raises
}
