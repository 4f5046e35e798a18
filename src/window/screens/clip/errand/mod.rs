//! A file made of the clip on request: asked for in a form, made beside the window's thread, refused
//! where what is noted of the clip stands against it, and opened from there.
//!
//! What the forms of it share: each has its own fields besides, and its own job.

mod asking;
pub(super) mod job;
mod keys;
pub(super) mod span;
mod state;
pub(super) mod view;

pub(crate) use state::{End, ErrandMessage, Made};
pub(super) use state::{Errand, Stage, Words};
