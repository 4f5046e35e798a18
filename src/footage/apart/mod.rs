//! Clips of unknown origin, decoded in processes of their own.
//!
//! Each such process is this program, started once more, with the open file of one clip. It locks
//! itself in (`locks`) before it reads a byte of the file, so that a flaw in a decoder reaches
//! neither other files nor a network, nor more memory and time than it was given (`child`).
//!
//! Whoever wants one small picture (`decoder`) gets it through a pipe (`reply`), or words in its
//! place, and the process ends.
//!
//! A clip that is opened to be stepped, and is not `known`, is read and decoded by processes that
//! stay, one for each decoder (`open`, `opening`, `clip`, `walk`, `fate`). They are asked one thing at a time
//! (`process`, `line`, `talk`) and hand packets (`packed`) and pictures over, these in `memory` that
//! both share. On their side is `serve`. What they say is checked like the file itself, and one that
//! says what no clip can have, is late or ends is `lost`: who decodes asks once more, in another.

mod child;
mod clip;
mod decoder;
mod ended;
mod error;
mod fate;
mod known;
mod line;
mod locks;
mod memory;
mod open;
mod opening;
mod packed;
mod process;
mod reply;
mod serve;
mod talk;
mod trial;
mod walk;
mod wish;

pub use child::decode_when_asked;
pub use decoder::ApartDecoder;
pub use error::ApartError;
pub use known::KnownClips;
pub use locks::Locks;
pub use reply::{ClipTold, SmallPicture};
pub use wish::SmallWish;
