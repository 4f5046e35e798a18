//! What a book is, as values.

pub(crate) mod angle;
pub(crate) mod ask;
pub(crate) mod book;
pub(crate) mod element;
pub(crate) mod extra;
pub(crate) mod panel;
pub(crate) mod rule;
pub(crate) mod scope;
pub(crate) mod series;
