//! One routine beside others: under every division, and as planned against as done.

use serde::Serialize;

use crate::{
    marks::{Sheaf, What},
    rulebook::Book,
};

use super::{model::ScoreSheet, score::score};

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

/// How a routine differs from its plan, by element ids.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Differences {
    /// Planned and not done.
    pub dropped: Vec<String>,
    /// Done and not planned.
    pub added: Vec<String>,
    /// Done in the place of what was planned: planned, done.
    pub changed: Vec<(String, String)>,
}

/// Returns how the routine differs from its plan, in the order of the routine.
pub fn differences(plan: &Sheaf, done: &Sheaf) -> Differences {
    let (plan, done) = (elements(plan), elements(done));
    let kept = longest_in_common(&plan, &done);
    let mut differences = Differences::default();
    let (mut from, mut to) = (0, 0);
    for (next, other) in kept.into_iter().chain([(plan.len(), done.len())]) {
        gap(&plan[from..next], &done[to..other], &mut differences);
        (from, to) = (next + 1, other + 1);
    }
    differences
}

/// Takes what lies between two kept elements: pairs are changes, the rest was dropped or added.
fn gap(plan: &[&str], done: &[&str], differences: &mut Differences) {
    let both = plan.len().min(done.len());
    let own = |ids: &[&str]| -> Vec<String> { ids.iter().map(|id| (*id).to_owned()).collect() };
    differences.changed.extend(own(&plan[..both]).into_iter().zip(own(&done[..both])));
    differences.dropped.extend(own(&plan[both..]));
    differences.added.extend(own(&done[both..]));
}

fn elements(sheaf: &Sheaf) -> Vec<&str> {
    let marks = sheaf.in_order().into_iter();
    let elements = marks.filter_map(|mark| match &mark.what {
        What::Element { element } => Some(element.as_str()),
        _ => None,
    });
    elements.collect()
}

/// Returns the longest common sequence of two lists as pairs of places.
fn longest_in_common(a: &[&str], b: &[&str]) -> Vec<(usize, usize)> {
    let mut lengths = vec![vec![0_usize; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for j in (0..b.len()).rev() {
            lengths[i][j] = if a[i] == b[j] {
                lengths[i + 1][j + 1] + 1
            } else {
                lengths[i + 1][j].max(lengths[i][j + 1])
            };
        }
    }
    let (mut i, mut j, mut pairs) = (0, 0, Vec::new());
    while i < a.len() && j < b.len() {
        if a[i] == b[j] {
            pairs.push((i, j));
            (i, j) = (i + 1, j + 1);
        } else if lengths[i + 1][j] >= lengths[i][j + 1] {
            i += 1;
        } else {
            j += 1;
        }
    }
    pairs
}
