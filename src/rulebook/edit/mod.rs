//! A book's text, changed in place by a form: what a person wrote around a value stays as it was.

mod draft;
mod paste;
mod place;
mod shapes;
#[cfg(test)]
mod tests;
mod told;
mod written;

pub(crate) use draft::Draft;
pub(crate) use paste::Pasted;
pub(crate) use place::RowAt;
pub(crate) use shapes::{SHAPES, Shape};
pub(crate) use told::{Reading, reading};
