//! The evaluator: one pure function from rules and marks to a score sheet.
//!
//! `scene` prepares the routine, `open` finds what the evidence leaves open, `tally` evaluates one
//! world, and `score` puts the worlds together.

mod advice;
mod beside;
mod compare;
mod credit;
mod deductions;
mod evidence;
pub mod model;
mod page;
mod routine;
mod score;
mod text;
mod together_text;

pub use advice::causes::{Cause, causes};
pub use advice::skills::Skills;
pub use beside::{causes_text, divisions_text};
pub use compare::attempts::attempts;
pub use compare::differences::{all_divisions, differences};
pub use compare::panel::{Combined, beside_reference, combine};
pub(crate) use compare::plan::BesidePlan;
pub use compare::plan::beside_plan;
pub(crate) use compare::result::BesideResult;
pub use compare::together::{Row, Together, TogetherError, attempts_together, panel};
pub(crate) use model::{CAUTION, ElementLine, ValuePart};
pub use model::{
    Decision, FrameAt, Line, Range, Requirement, ScoreSheet, Standing, Status, WinBack,
};
pub use score::sheet::{quick, score, score_with};
pub use text::{text, to_json};
pub use together_text::together_text;
