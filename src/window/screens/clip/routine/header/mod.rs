//! The routine's header: what is judged, by whom and under which book.

mod form;
mod message;
mod named;
mod refusal;
mod taking;
mod view;

pub(crate) use form::Form;
pub(crate) use message::{Message, message_for};
