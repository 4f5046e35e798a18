//! The evaluator: one pure function from rules and marks to a score sheet.
//!
//! `scene` prepares the routine, `open` finds what the evidence leaves open, `tally` evaluates one
//! world, and `score` puts the worlds together.

mod angles;
mod assign;
mod attempts;
mod beside;
mod best;
mod causes;
mod close;
mod compare;
mod compulsory;
mod connections;
mod credit;
mod deduct;
mod elements;
mod extra;
mod follow;
mod frames;
pub mod model;
mod moments;
mod open;
mod panel;
mod parts;
mod requirements;
mod scene;
mod score;
mod serving;
mod settle;
mod tally;
mod text;
mod triggers;
mod turn_end;
mod vault;
mod win_back;
mod world;

pub use attempts::attempts;
pub use beside::{causes_text, divisions_text};
pub use causes::{Cause, causes};
pub use compare::{Differences, all_divisions, differences};
pub use model::{
    CAUTION, Decision, ElementLine, FrameAt, Line, Range, Requirement, ScoreSheet, Standing,
    Status, ValuePart, WinBack,
};
pub use panel::{Combined, beside_reference, combine};
pub use score::{quick, score};
pub use text::{text, to_json};
