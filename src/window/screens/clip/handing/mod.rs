//! What is on screen handed over: a still of the frame, or a replay that stops on it; asked for in a
//! form and made beside the window's thread.

mod asking;
mod form;
mod job;
mod keys;
mod view;

pub(crate) use form::{HandForm, HandMessage};
