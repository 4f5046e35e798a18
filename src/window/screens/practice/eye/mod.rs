//! Training the eye for angles in the window: a drawn figure, an answer in degrees, the truth at
//! once.

mod figure;
mod paper;
mod screen;
mod view;

pub use screen::EyeWanted;
pub(crate) use screen::{Eye, Message};
