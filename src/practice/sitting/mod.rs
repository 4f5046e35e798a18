//! A sitting: one person's, or a group's, answers from one look, written before any still.
//!
//! `machine`, `plan` and `results` are pure; `file` and `start` touch the disk.

mod file;
mod machine;
mod plan;
mod record;
mod results;
mod start;

pub use file::{SittingError, SittingFile, files_of, path_for, read};
pub use machine::{Effect, Event, Refused, Sitting, Stage, choices};
pub use plan::{due, plan};
pub use record::{Begun, Given, Mode, Record};
pub use results::{remarks, results};
pub use start::go_on_or_begin;
