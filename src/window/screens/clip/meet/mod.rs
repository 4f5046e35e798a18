//! What the meet gave, typed in and laid beside the sheet.

mod asking;
mod form;
mod view;

pub(crate) use form::{MeetForm, MeetMessage};
