//! A bundle from another club taken into a folder of the library: all of it is checked first, and
//! what it says of clips that are here is shown before it counts.

mod doing;
mod form;
mod jobs;
mod view;

pub(super) use form::TakeIn;
pub(crate) use form::TakeMessage;
