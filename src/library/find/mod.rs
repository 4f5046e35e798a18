//! Finding routines again, and giving what was found the same settings.

pub(crate) mod assign;
pub(crate) mod known;
pub(crate) mod parse;
pub(crate) mod query;
pub(crate) mod search;
