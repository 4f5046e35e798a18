//! The screens, each with what happens on it, what it asks of the program, and how it is drawn.

pub(crate) mod book;
pub(crate) mod choice;
pub(crate) mod clip;
pub(crate) mod library;
pub(crate) mod pair;
pub(crate) mod place;
pub(crate) mod practice;
pub(crate) mod record;
pub(crate) mod start;
pub(crate) mod underway;
