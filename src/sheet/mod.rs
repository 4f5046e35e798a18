//! The evaluator: one pure function from rules and marks to a score sheet.

pub mod model;

mod score;
mod text;

pub use model::{
    Decision, ElementLine, FrameAt, Line, Range, Requirement, ScoreSheet, Standing, Status,
    ValuePart, WinBack,
};
pub use score::score;
pub use text::{text, to_json};
