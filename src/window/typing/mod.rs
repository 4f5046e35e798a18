//! Typing into the window's own fields.
//!
//! iced's text field gets the cursor one turn after it is asked to, and what is typed meanwhile
//! goes elsewhere or arrives in another order. Here a letter must never be lost, nor taken for a
//! command, so all keys come in one stream and the screen itself knows which field is written in.
//! The field only draws, tells where it was pointed at, and asks for the input method.

mod field;
mod keys;
mod line;
#[cfg(test)]
mod tests;
mod typed;

pub(crate) use field::field;
pub(crate) use keys::typed;
pub(crate) use line::Line;
pub(crate) use typed::{Reach, Selecting, Typed, Wish};
