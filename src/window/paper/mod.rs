//! The paper: the routine in order as it happened, and under it what it comes to.
//!
//! `lines` makes lines of marks and sheet and knows no iced; `view` draws them.

pub(super) mod lines;
mod view;

pub(super) use lines::{Key, Names, Paper, Sign};
pub(super) use view::{Damage, Shown, score_band, top_of, view};
