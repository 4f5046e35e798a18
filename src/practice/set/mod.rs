//! A set: spans of routines with questions, written by hand or from the library as a TOML file.
//!
//! `read` is pure; only `load` reads a file.

mod entry;
mod fields;
mod load;
mod model;
mod question;
mod read;

pub use entry::{Word, entered, hands, vocabulary};
pub(crate) use load::SetError;
pub use load::load;
pub use model::{Flag, Look, Set};
pub use question::{Answer, AnswerForm, AnswerVerdict, Ask, Question};
pub use read::read;
