//! What one thing cost: the lines of a sheet grouped by what brought them about.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::{
    marks::{Id, Sheaf},
    rulebook::Book,
    sheet::{
        model::{FrameAt, Line, ScoreSheet, Status},
        score::plain,
    },
    units::Points,
};

use super::changes::reached;

/// One thing and everything that it cost.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cause {
    /// What it was: an element, a fall.
    pub label: String,
    /// The mark that it begins with.
    pub mark: Option<Id>,
    /// Its frames.
    pub frames: Vec<FrameAt>,
    /// What it cost altogether.
    pub amount: Points,
    /// The parts of that: what was lost and how much.
    pub parts: Vec<(String, Points)>,
}

/// Returns what each cause cost, the dearest first; causes that cost nothing are left out.
///
/// What a missed angle cost is found by scoring the routine with the angle met, so that "this
/// cast cost 1.0" holds its value part and its requirement, and no more than the difference.
pub fn causes(book: &Book, sheaf: &Sheaf, sheet: &ScoreSheet) -> Vec<Cause> {
    let mut causes: Vec<Cause> = Vec::new();
    for line in &sheet.elements {
        let missed: Vec<&str> = line
            .decisions
            .iter()
            .filter(|decision| decision.status == Some(Status::Missed))
            .map(|decision| decision.rule.as_str())
            .collect();
        if !missed.is_empty() {
            let parts = if_met(book, sheaf, sheet, (line.mark, &missed));
            causes.push(cause(&line.label, Some(line.mark), &line.frames, parts));
        }
    }
    // What an angle took is in its element's cause already.
    let in_element: BTreeSet<(Option<Id>, &str)> = sheet
        .elements
        .iter()
        .flat_map(|line| line.decisions.iter().map(|it| (Some(line.mark), it.rule.as_str())))
        .collect();
    let others = |line: &&Line| !in_element.contains(&(line.mark, line.rule.as_str()));
    for line in sheet.deductions.iter().filter(others) {
        let parts = vec![(line.label.clone(), line.amount)];
        causes.push(cause(&line.label, line.mark, &line.frames, parts));
    }
    causes.retain(|cause| cause.amount != Points::ZERO);
    causes.sort_by_key(|cause| (std::cmp::Reverse(cause.amount), cause.mark));
    causes
}

fn cause(label: &str, mark: Option<Id>, frames: &[FrameAt], parts: Vec<(String, Points)>) -> Cause {
    let amount = parts.iter().map(|(_, amount)| *amount).sum();
    Cause { label: label.to_owned(), mark, frames: frames.to_vec(), amount, parts }
}

/// Returns what would not have been lost had the element met these angle rules.
fn if_met(
    book: &Book,
    sheaf: &Sheaf,
    sheet: &ScoreSheet,
    (mark, rules): (Id, &[&str]),
) -> Vec<(String, Points)> {
    let mut changed = sheaf.clone();
    for rule in rules {
        reached(&mut changed, mark, rule);
    }
    let met = plain(book, &changed);
    let mut parts = Vec::new();
    for (is, was) in sheet.value_parts.iter().zip(&met.value_parts) {
        parts.push((format!("Value part, {}", is.label), is.amount - was.amount));
    }
    for (is, was) in sheet.requirements.iter().zip(&met.requirements) {
        parts.push((is.label.clone(), is.amount - was.amount));
    }
    for line in sheet.deductions.iter().filter(|line| line.mark == Some(mark)) {
        if rules.contains(&line.rule.as_str()) {
            parts.push((line.label.clone(), line.amount));
        }
    }
    parts.retain(|(_, amount)| *amount != Points::ZERO);
    parts
}
