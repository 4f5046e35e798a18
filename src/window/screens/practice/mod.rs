//! Practice in the window: who sits, the sitting itself, how calls agree, figures for the eye.

mod action;
mod agreement;
mod begin;
mod eye;
mod loaded;
mod screen;
mod sitting;

pub(crate) use action::Action;
pub use eye::EyeWanted;
pub use loaded::SittingWanted;
pub(crate) use loaded::{is_set, may_be_set};
pub(crate) use screen::{Message, Practice, compare, open, train};
