//! What is judged: the routine's header, the routines of a clip, the book.

pub(crate) mod book;
pub(crate) mod header;
pub(crate) mod known;
pub(crate) mod routines;
