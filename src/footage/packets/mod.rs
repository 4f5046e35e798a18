//! The packets of one open file: read once, and found again from any place.

mod beside;
mod blocks;
pub(crate) mod clip;
mod coded;
pub(crate) mod edits;
pub(crate) mod elsewhere;
pub(crate) mod entry;
mod group;
pub(crate) mod input;
mod lacking;
pub(crate) mod role;
pub(crate) mod scan;
pub(crate) mod session;
pub(crate) mod source;
mod torn;
pub(crate) mod trouble;
