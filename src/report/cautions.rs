//! What pages must not be taken for.

/// Of a page made from a rule book alone.
pub(crate) const CHECK_THE_BOOK: &str = "Check the current printed book; it decides.";
