//! Rule books that tests type in: P, Q and R carry facts of the trade and are never shipped.

pub(crate) mod ask;
pub(crate) mod lines;
pub(crate) mod write;

use stillcall::rulebook::{Book, read, render};

/// The common ground: a start value of 10.0, six low parts, four requirements at 0.5.
pub(crate) const P: &str = include_str!("p.toml");

/// Other ways of building a score, and figures of several programmes side by side.
pub(crate) const Q: &str = include_str!("q.toml");

/// Times, bonuses, attempts and limits of the best.
pub(crate) const R: &str = include_str!("r.toml");

/// Returns the book of the text, or fails with every error in its place.
#[allow(clippy::panic, reason = "a test that cannot be set up has failed")]
pub(crate) fn book(text: &str) -> Book {
    match read(text, "test book") {
        Ok((book, _)) => book,
        Err(errors) => panic!("{}", render(&errors, text, "test book")),
    }
}
