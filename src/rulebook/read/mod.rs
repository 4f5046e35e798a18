//! From a book's text to the model.

pub(crate) mod book;
pub(crate) mod build;
mod inherit;
mod vary;
