//! A part of the clip cut out as a clip of its own: asked for in a form and written beside the window's
//! thread.

mod asking;
mod form;
mod job;
mod keys;
mod view;

pub(crate) use form::{CutForm, CutMessage};
