//! Whether what a person typed in a rule book ever changes a score: every key is tried with another
//! value on drawn routines, until one comes to something else.
//!
//! What is drawn is drawn by fixed numbers, so that the same book is always told the same. That no
//! routine was found is no proof that there is none: a finding says how many were tried.

mod chance;
mod change;
mod check;
mod draw;
mod example;
mod ingredients;
mod judges;
mod outcome;
mod plan;

pub use check::{Checked, check};
pub use example::{Example, example};
