//! The sitting in the window: it carries out what the machine of the practice room asks for, and
//! tells it what happened.
//!
//! The machine alone decides what may be shown when. Here is no picture but while a look plays,
//! and after its answers are on the disk.

mod answers;
mod clip;
mod end;
mod group;
mod keep;
mod message;
mod shown;
mod sitter;
mod slip;
mod stages;
mod view;

pub(crate) use message::Message;
pub(crate) use sitter::{Sitter, sit};
