//! The one page that a judge keeps at the table.

mod angles;
mod faults;
mod limits;
mod row;
mod sections;

pub use row::CardRow;
pub(crate) use row::CardSection;
pub use sections::{Card, card};
