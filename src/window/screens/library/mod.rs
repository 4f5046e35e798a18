//! The library as a wall of clips: searched by words, windowed, with what is due and what may be
//! done with each.

mod answering;
mod aside;
mod asking;
mod erasing;
mod foot;
mod handing;
mod jobs;
mod judges;
mod looking;
mod message;
mod noting;
mod room;
mod screen;
mod taking;
mod tile;
mod tile_view;
mod together;
mod view;
mod wall;
mod words;

pub(crate) use jobs::due;
pub(crate) use message::{Action, Message};
pub(crate) use screen::Library;
pub(crate) use taking::TakeMessage;
