//! The paper: the routine in order as it happened, and under it what it comes to.
//!
//! `lines` makes lines of marks and sheet and knows no iced; `view` draws them.

pub mod lines;
mod view;

pub use lines::{Key, Names, Paper, Sign};
pub use view::{Shown, score_band, top_of, view};
