//! A sheet beside its plan, and beside what the routine was given at the meet.

use serde::Serialize;

use crate::units::Points;

use super::line::FrameAt;

/// A routine beside its plan.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BesidePlan {
    /// Start value of the plan; nothing where the book has no score for it.
    pub start_value: Option<Points>,
    /// Score of the plan, nothing when void.
    pub score: Option<Points>,
    /// By how much the start value is higher as done than as planned.
    pub difference: Option<Points>,
    /// What is otherwise, in the order of the routine.
    pub changes: Vec<PlanChange>,
}

/// One thing that is otherwise than planned.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlanChange {
    /// Dropped, changed or added.
    pub kind: Departure,
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
pub enum Departure {
    /// Planned and not done.
    Dropped,
    /// Something else done in its place.
    Changed,
    /// Done and not planned.
    Added,
}

impl PlanChange {
    /// Returns it in one plain sentence.
    pub fn said(&self) -> String {
        let name = |name: &Option<String>| name.clone().unwrap_or_default();
        let (planned, done) = (name(&self.planned), name(&self.done));
        match self.kind {
            Departure::Dropped => format!("{planned} was planned and not done."),
            Departure::Changed => format!("{done} was done in the place of {planned}."),
            Departure::Added => format!("{done} was done and not planned."),
        }
    }
}

/// One part of the result beside the same part of the sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct BesideResult {
    /// What it is: the start value, a judge, the average.
    pub part: String,
    /// What the sheet says; nothing when it says void.
    pub sheet: Option<Points>,
    /// What was given.
    pub given: Points,
    /// What the sheet says more than was given; nothing when the sheet says void.
    pub difference: Option<Points>,
}
