//! Draws the paper.

mod band;
mod drag;
mod line;
mod long;
mod whole;

pub(crate) use band::score_band;
pub(crate) use line::{Damage, Shown};
pub(crate) use whole::{top_of, view};
