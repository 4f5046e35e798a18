//! Two clips side by side, tied at a moment of each and stepped together: last month's cast beside
//! today's, with their sheets under them. What is written of a clip is written on its own screen.

mod ask;
mod message;
mod moving;
mod screen;
mod side;
mod view;

pub(crate) use message::{Action, Message, Which};
pub(crate) use screen::Pair;
