//! From a book's text to the model.

pub(crate) mod angle;
pub(crate) mod book;
pub(crate) mod build;
pub(crate) mod credit;
pub(crate) mod elements;
pub(crate) mod extra;
pub(crate) mod fault;
pub(crate) mod inherit;
pub(crate) mod rules;
pub(crate) mod small;
pub(crate) mod vary;
