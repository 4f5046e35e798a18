//! What is known, what is left open, and what an angle rule makes of it.

pub(crate) mod angle_questions;
pub(crate) mod close_calls;
pub(crate) mod decisions;
pub(crate) mod questions;
