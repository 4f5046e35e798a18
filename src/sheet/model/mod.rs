//! The result as values: what the window, the report and the command line show.

mod asked;
mod beside;
mod line;
mod sheet;
mod unscored;
mod words;

pub(crate) use beside::{BesidePlan, BesideResult, Departure, PlanChange};
pub(crate) use line::remark;
pub use line::{FrameAt, Line, Status};
pub(crate) use sheet::{CAUTION, CloseCall, ElementLine, PartLine, READINESS, ValuePart};
pub use sheet::{Decision, RequirementLine, ScoreRange, ScoreSheet, Standing, WinBack};
pub use unscored::Unscored;
pub(crate) use words::NO_SCORE;
pub use words::{frame_words, frames_words, score_words, start_words};
