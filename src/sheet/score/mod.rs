//! One evaluation, and the sheet over everything that is open.

mod close_lines;
mod evaluation;
mod given_back;
mod ledger;
mod result;
mod sheet;
mod under;

pub(crate) use evaluation::Tally;
pub use sheet::quick;
pub(crate) use sheet::{over_worlds, plain};
