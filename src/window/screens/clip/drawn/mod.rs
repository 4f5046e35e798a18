//! How the clip screen is drawn.

pub(crate) mod actions;
pub(crate) mod clip_line;
pub(crate) mod controls;
pub(crate) mod drawings;
mod invitation;
pub(crate) mod ribbon;
pub(crate) mod under;
pub(crate) mod view;
