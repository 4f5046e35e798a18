//! Which looks a sitting shows.

use std::collections::BTreeMap;

use super::record::Record;
use crate::practice::set::{AnswerVerdict, Look, Set};

/// Returns the ids of the looks to show, in the order of the set.
///
/// The first sitting shows all, later ones what is due. When nothing is left, all are shown again.
pub fn plan(set: &Set, earlier: &[Vec<Record>]) -> Vec<String> {
    let due = due(set, earlier.iter().flatten());
    if due.is_empty() { shown(set).map(|look| look.id.clone()).collect() } else { due }
}

/// Returns the ids of the looks that come back: what was never answered, and what was last
/// answered wrong; close calls do not come back.
pub fn due<'a>(set: &Set, earlier: impl Iterator<Item = &'a Record>) -> Vec<String> {
    let mut wrong: BTreeMap<&str, bool> = BTreeMap::new();
    for record in earlier {
        if let Record::Answered { look, answers, .. } = record
            && let Some(look) = set.look(look)
        {
            let is_wrong = look.questions.iter().any(|question| {
                let given = answers.iter().find(|given| given.question == question.id);
                let answer = given.and_then(|given| given.answer.as_ref());
                question.verdict(answer) == AnswerVerdict::Wrong
            });
            wrong.insert(&look.id, is_wrong);
        }
    }
    let comes = |id: &str| wrong.get(id).copied().unwrap_or(true);
    shown(set).map(|look| look.id.clone()).filter(|id| comes(id)).collect()
}

/// Flagged looks are shown only where the set says so on purpose.
fn shown(set: &Set) -> impl Iterator<Item = &Look> {
    set.looks.iter().filter(|look| look.may_be_shown())
}
