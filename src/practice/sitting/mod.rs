//! A sitting: one person's, or a group's, answers from one look, written before any still.
//!
//! `machine` is a sitting at work: `steps` are its words, `answers` says which it takes, `records`
//! what it writes. Only `file` and `start` touch the disk.

mod answers;
mod file;
mod machine;
mod plan;
mod record;
mod records;
mod results;
mod start;
mod steps;

pub(crate) use file::all_of;
pub use file::{SittingError, SittingFile, files_of, path_for, read};
pub use machine::Sitting;
pub use plan::{due, plan};
pub use record::{Begun, Given, Mode, Record};
pub use results::{remarks, results};
pub use start::go_on_or_begin;
pub use steps::{Effect, Refused, SittingEvent, SittingStage};
