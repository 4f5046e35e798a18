//! The write line: what a judge writes, turned into something to put at the frame on screen.
//!
//! Pure: text, the words of the book and what is chosen go in, offers come out.

mod fixed;
pub(crate) mod moments;
mod offer;
mod read;
#[cfg(test)]
mod tests;
mod vocabulary;

pub(crate) use offer::{Entry, Hint, Offer};
pub(crate) use read::{Asked, Context, read, stated};
pub(crate) use vocabulary::Vocabulary;
