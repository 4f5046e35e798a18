//! Deleting a clip and withdrawing an athlete: asked for, shown in full, confirmed, carried out.

mod carrying;
mod doing;
mod form;
mod groups;
mod jobs;
mod keys;
mod message;
mod outcome;
mod stage;
mod view;

pub(crate) use message::EraseMessage;
pub(crate) use stage::EraseAsked;
