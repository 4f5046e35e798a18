//! Writing the paper: what was seen is put down, changed, hung elsewhere, taken away.

pub(crate) mod editing;
pub(crate) mod hanging;
pub(crate) mod offers;
pub(crate) mod put;
pub(crate) mod put_down;
pub(crate) mod rewriting;
