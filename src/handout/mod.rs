//! What is handed over of a clip: a still with its drawing, moments of a clip on one picture, and a
//! replay with the line drawn where it was measured; each of them also as lines on a plain ground,
//! without the picture.
//!
//! One function for each: [`still()`] and [`moments()`] return the file's bytes, [`replay()`] writes to a
//! place that it is given. None of them asks for consent or enters anything anywhere: whoever calls
//! them hands over through `library::Leaving`, whose `write` takes bytes and whose `make` gives
//! the place.
//!
//! - `drawings`: what stands on the frames of a clip, by the number of the frame.
//! - `subject`: a clip with its drawings, and one of its frames as a picture.
//! - `timing`: which frame is shown when, as integers.
//! - `panes`: where one picture or two lie on what is made.

mod drawings;
mod error;
mod moments;
mod panes;
mod progress;
mod reel;
mod replay;
mod still;
mod subject;
mod timing;

pub use drawings::Drawings;
pub use error::HandoutError;
pub use moments::{FEWEST, MOST, moments};
pub use progress::Progress;
pub use replay::{Pairing, Replay, Second, replay};
pub use still::{StillFormat, still};
pub use subject::{Ground, Subject};
pub use timing::{Pass, Speed, Stop};
