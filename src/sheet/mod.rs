//! The evaluator: one pure function from rules and marks to a score sheet.

pub mod model;

pub use model::{
    Decision, ElementLine, FrameAt, Line, Range, Requirement, ScoreSheet, Standing, Status,
    ValuePart, WinBack,
};
