//! The evaluator: one pure function from rules and marks to a score sheet.
//!
//! `scene` prepares the routine, `open` finds what the evidence leaves open, `tally` evaluates one
//! world, and `score` puts the worlds together.

mod angle_charges;
mod angles;
mod ask_angles;
mod attempts;
mod beside;
mod beside_result;
mod best;
mod causes;
mod changes;
mod close;
mod close_calls;
mod common_order;
mod compare;
mod compulsory;
mod connections;
mod credit;
mod decisions;
mod deduct;
mod elements;
mod extra;
mod fill;
mod follow;
mod frames;
pub mod model;
mod moments;
mod open;
mod page;
mod panel;
mod parts;
mod plan;
mod requirements;
mod scene;
mod score;
mod serving;
mod settle;
mod share;
mod skills;
mod suggest;
mod tally;
mod text;
mod together;
mod together_text;
mod triggers;
mod turn_end;
mod vault;
mod win_back;
mod world;

pub use attempts::attempts;
pub use beside::{causes_text, divisions_text};
pub(crate) use beside_result::BesideResult;
pub use causes::{Cause, causes};
pub use compare::{all_divisions, differences};
pub(crate) use model::{CAUTION, ElementLine, ValuePart};
pub use model::{
    Decision, FrameAt, Line, Range, Requirement, ScoreSheet, Standing, Status, WinBack,
};
pub use panel::{Combined, beside_reference, combine};
pub(crate) use plan::BesidePlan;
pub use plan::beside_plan;
pub use score::{quick, score, score_with};
pub use skills::Skills;
pub use text::{text, to_json};
pub use together::{Row, Together, TogetherError, attempts_together, panel};
pub use together_text::together_text;
