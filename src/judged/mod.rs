//! From a marks file to its sheet: the one way that every command, the window, the library and
//! the practice go.
//!
//! `book` finds the rule book in the edition that marks name, `list` the athlete's own list of
//! elements, and `marked` reads the marks and scores them.

mod book;
mod error;
mod list;
mod marked;

pub use book::{Judging, Ruled};
pub use error::JudgedError;
pub use list::{list_of, read_list};
pub use marked::{Judged, Marked, is_watched};
