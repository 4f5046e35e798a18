//! A routine beside its plan: what was dropped, changed and added, and what that cost.

use crate::{
    marks::{Id, Sheaf},
    rulebook::Book,
    sheet::{
        model::{BesidePlan, Departure, PlanChange, ScoreSheet},
        routine::frames::Frames,
        score::plain,
    },
};

use super::differences::differences;

/// Returns the routine beside its plan, both under the book and the division of the routine done.
pub fn beside_plan(book: &Book, plan: &Sheaf, done: &Sheaf, sheet: &ScoreSheet) -> BesidePlan {
    let mut planned = plan.clone();
    planned.routine.division.clone_from(&done.routine.division);
    planned.routine.event.clone_from(&done.routine.event);
    let tally = plain(book, &planned);
    let marks = done.in_order();
    let frames = Frames::new(done, &marks);
    let name = |id: &str| {
        let element = book.element(&done.routine.event, id);
        element.map_or_else(|| id.to_owned(), |element| element.name.clone())
    };
    let at = |id: Id| done.mark(id).map(|mark| frames.at(&mark.at)).unwrap_or_default();
    let changes = differences(plan, done).into_iter().map(|change| PlanChange {
        kind: match (&change.planned, &change.done) {
            (Some(_), Some(_)) => Departure::Changed,
            (Some(_), None) => Departure::Dropped,
            _ => Departure::Added,
        },
        planned: change.planned.as_deref().map(name),
        frames: change.done.as_ref().map(|(_, id)| at(*id)).unwrap_or_default(),
        done: change.done.as_ref().map(|(element, _)| name(element)),
    });
    BesidePlan {
        start_value: tally.start(),
        score: tally.counted(),
        difference: sheet.start_value.zip(tally.start()).map(|(done, planned)| done - planned),
        changes: changes.collect(),
    }
}
