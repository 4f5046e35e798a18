//! From a book's text to the model.

pub(crate) mod book;
mod build;
mod inherit;
mod vary;
