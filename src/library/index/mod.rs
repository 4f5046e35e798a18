//! The index and how it is brought up to date with the files.

mod clips;
pub(crate) mod database;
pub(crate) mod entry;
pub(crate) mod follow;
mod hashing;
mod missing;
pub(crate) mod pace;
pub(crate) mod progress;
pub(crate) mod rows;
pub(crate) mod scan;
pub(crate) mod thumbs;
pub(crate) mod turn;
pub(crate) mod walk;
