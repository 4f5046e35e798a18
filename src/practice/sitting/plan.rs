//! Which looks a sitting shows.

use std::collections::BTreeMap;

use super::record::Record;
use crate::practice::set::{Set, Verdict};

/// Returns the ids of the looks to show, in the order of the set.
///
/// The first sitting shows all. Later ones show what was never answered and what was last answered
/// wrong; close calls do not come back. When nothing is left, all are shown again. Flagged looks
/// are shown only where the set says so on purpose.
pub fn plan(set: &Set, earlier: &[Vec<Record>]) -> Vec<String> {
    let mut wrong: BTreeMap<&str, bool> = BTreeMap::new();
    for record in earlier.iter().flatten() {
        if let Record::Answered { look, answers, .. } = record
            && let Some(look) = set.look(look)
        {
            let is_wrong = look.questions.iter().any(|question| {
                let given = answers.iter().find(|given| given.question == question.id);
                let answer = given.and_then(|given| given.answer.as_ref());
                question.verdict(answer) == Verdict::Wrong
            });
            wrong.insert(&look.id, is_wrong);
        }
    }
    let shown = || set.looks.iter().filter(|look| look.may_be_shown());
    let comes = |id: &str| wrong.get(id).copied().unwrap_or(true);
    let due: Vec<String> = shown().map(|look| look.id.clone()).filter(|id| comes(id)).collect();
    if due.is_empty() { shown().map(|look| look.id.clone()).collect() } else { due }
}
