//! One routine beside others: under every division, and as planned against as done.

use crate::{
    marks::{Id, Seen, Sheaf, What},
    rulebook::Book,
    sheet::{advice::score, model::ScoreSheet, routine::common_order::common_order},
};

/// Returns the sheet of the routine under every division of its event, easiest first.
pub fn all_divisions(book: &Book, sheaf: &Sheaf) -> Vec<ScoreSheet> {
    let divisions = book.divisions_of(&sheaf.routine.event);
    divisions
        .map(|division| {
            let mut moved = sheaf.clone();
            moved.routine.division.clone_from(&division.id);
            score(book, &moved)
        })
        .collect()
}

/// One place at which a routine differs from its plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// Element id that was planned; nothing where something was added.
    pub planned: Option<String>,
    /// Element id that was done, and its mark; nothing where something was dropped.
    pub done: Option<(String, Id)>,
}

/// Returns where the routine differs from its plan, in the order of the routine.
pub fn differences(plan: &Sheaf, done: &Sheaf) -> Vec<Difference> {
    let (plan, done) = (elements(plan), elements(done));
    let ids = |list: &[_]| -> Vec<&str> { list.iter().map(|(id, _)| *id).collect() };
    let kept = common_order(&ids(&plan), &ids(&done));
    let mut differences = Vec::new();
    let (mut from, mut to) = (0, 0);
    for (next, other) in kept.into_iter().chain([(plan.len(), done.len())]) {
        gap(&plan[from..next], &done[to..other], &mut differences);
        (from, to) = (next + 1, other + 1);
    }
    differences
}

/// Takes what lies between two kept elements: pairs are changes, the rest was dropped or added.
fn gap(plan: &[(&str, Id)], done: &[(&str, Id)], differences: &mut Vec<Difference>) {
    for at in 0..plan.len().max(done.len()) {
        differences.push(Difference {
            planned: plan.get(at).map(|(id, _)| (*id).to_owned()),
            done: done.get(at).map(|(id, mark)| ((*id).to_owned(), *mark)),
        });
    }
}

/// Returns the elements that were shown, in order; what was looked for and did not happen is none.
fn elements(sheaf: &Sheaf) -> Vec<(&str, Id)> {
    let marks = sheaf.in_order().into_iter().filter(|mark| mark.seen != Seen::No);
    let elements = marks.filter_map(|mark| match &mark.what {
        What::Element { element } => Some((element.as_str(), mark.id)),
        _ => None,
    });
    elements.collect()
}
