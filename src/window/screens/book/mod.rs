//! One's own rule book, typed in by forms that are made of the definitions of its tables.

mod begin;
mod fields;
mod form;
mod message;
mod pasting;
mod screen;
mod side;
mod view;

pub(crate) use begin::{Begin, BeginAction, BeginMessage};
pub(crate) use message::{Action, Message};
pub(crate) use screen::BookForms;
