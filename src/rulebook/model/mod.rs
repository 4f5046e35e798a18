//! What a book is, as values: the list of its kinds, and what other rooms ask of it.

mod ask;
pub(crate) mod book;
