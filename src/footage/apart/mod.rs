//! Clips of unknown origin, decoded in a process of their own.
//!
//! Whoever wants a small picture opens the file and starts this program once more (`decoder`) with
//! the open file as its input and a pipe as its output. That process locks itself in (`locks`)
//! before it reads a byte of the file, so that a flaw in a decoder reaches neither other files nor
//! a network, nor more memory and time than it was given. It answers (`reply`) with the picture and
//! what is known of the clip, or in words, and ends (`child`).

mod child;
mod decoder;
mod error;
mod locks;
mod reply;
mod trial;
mod wish;

pub use child::decode_when_asked;
pub use decoder::ApartDecoder;
pub use error::ApartError;
pub use locks::Locks;
pub use reply::{ClipTold, SmallPicture};
pub use wish::SmallWish;
