//! The evaluator: one pure function from rules and marks to a score sheet.
//!
//! `routine` prepares what was marked, `evidence` finds what is left open, `credit` and
//! `deductions` evaluate one world, `score` puts the worlds together, `advice` says what would win
//! something back, and `compare` lays sheets beside one another.

mod advice;
mod compare;
mod credit;
mod deductions;
mod evidence;
mod model;
mod routine;
mod score;

pub use advice::{Cause, Skills, causes, score, score_with};
pub(crate) use compare::panel_for;
pub use compare::{
    Combined, PartTogether, Row, Together, TogetherError, all_divisions, attempts,
    attempts_together, beside_plan, beside_reference, combine, differences, panel,
};
pub(crate) use model::{BesidePlan, BesideResult, CAUTION, ElementLine, NO_SCORE, ValuePart};
pub use model::{
    Decision, FrameAt, Line, RequirementLine, ScoreRange, ScoreSheet, Standing, Status, Unscored,
    WinBack,
};
pub use model::{frame_words, frames_words, score_words, start_words};
pub use score::quick;
