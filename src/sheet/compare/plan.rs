//! A routine beside its plan: what was dropped, changed and added, and what that cost.

use serde::Serialize;

use crate::{
    marks::{Id, Sheaf},
    rulebook::Book,
    sheet::{
        model::{FrameAt, ScoreSheet},
        routine::frames::Frames,
        score::sheet::plain,
    },
    units::Points,
};

use super::differences::differences;

/// A routine beside its plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BesidePlan {
    /// Start value of the plan.
    pub start_value: Points,
    /// Score of the plan, nothing when void.
    pub score: Option<Points>,
    /// By how much the start value is higher as done than as planned.
    pub difference: Points,
    /// What is otherwise, in the order of the routine.
    pub changes: Vec<PlanChange>,
}

/// One thing that is otherwise than planned.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanChange {
    /// Dropped, changed or added.
    pub kind: Kind,
    /// Name of what was planned.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub planned: Option<String>,
    /// Name of what was done.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub done: Option<String>,
    /// Frames of what was done; of something dropped none.
    pub frames: Vec<FrameAt>,
}

/// In which way a routine departs from its plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// Planned and not done.
    Dropped,
    /// Something else done in its place.
    Changed,
    /// Done and not planned.
    Added,
}

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
            (Some(_), Some(_)) => Kind::Changed,
            (Some(_), None) => Kind::Dropped,
            _ => Kind::Added,
        },
        planned: change.planned.as_deref().map(name),
        frames: change.done.as_ref().map(|(_, id)| at(*id)).unwrap_or_default(),
        done: change.done.as_ref().map(|(element, _)| name(element)),
    });
    BesidePlan {
        start_value: tally.start_value,
        score: tally.counted(),
        difference: sheet.start_value - tally.start_value,
        changes: changes.collect(),
    }
}

impl PlanChange {
    /// Returns it in one plain sentence.
    pub fn said(&self) -> String {
        let name = |name: &Option<String>| name.clone().unwrap_or_default();
        let (planned, done) = (name(&self.planned), name(&self.done));
        match self.kind {
            Kind::Dropped => format!("{planned} was planned and not done."),
            Kind::Changed => format!("{done} was done in the place of {planned}."),
            Kind::Added => format!("{done} was done and not planned."),
        }
    }
}
