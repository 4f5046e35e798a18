//! A key of a book stated once: its help, what its value must be, and what is read from it.

pub(crate) mod check;
pub(crate) mod key;
pub(crate) mod part;
pub(crate) mod table;
pub(crate) mod word;
