//! What leaves the program: pages that a person prints or sends.
//!
//! Each file but `captions` fills one [`Document`]; how it looks on paper, in a terminal and as a table is said
//! once, in `document`.

mod agreement;
mod captions;
mod card;
mod cautions;
mod chart;
mod divisions;
pub mod document;
mod sheet;
mod slip;
mod together;

pub use agreement::agreement;
pub use captions::captions;
pub(crate) use card::CardSection;
pub use card::{Card, CardRow, card};
pub use chart::chart;
pub use divisions::{by_cause, divisions};
pub use document::{Document, Still};
pub use sheet::score_sheet;
pub use slip::slip;
pub use together::together;
