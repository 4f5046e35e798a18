//! A part of the clip cut out as a clip of its own: asked for in a form, written beside the window's
//! thread, and opened from there.

mod asking;
mod form;
mod job;
mod keys;
mod view;

pub(crate) use form::{CutForm, CutMessage};
