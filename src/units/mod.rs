//! Quantities that every room shares, each in a type of its own so that they cannot be mixed up, and
//! the table of containers that several rooms look into.
//!
//! This room depends on nothing of the crate and reads nothing from the world.

mod capitalised;
mod containers;
mod content;
mod counted;
mod degrees;
mod fixed;
mod frame_ref;
mod magnitude;
mod place;
mod points;
pub mod tie;
mod time;
mod upright;
mod visible;

pub(crate) use capitalised::capitalised;
pub use containers::{CONTAINERS, Container, Packets, Seek, Zeros, is_clip_name};
pub use content::{content_hash, quick_id};
pub use counted::counted;
pub use degrees::Degrees;
pub use fixed::fixed;
pub use frame_ref::{FrameIndex, FrameRef, PictureField};
pub use magnitude::{Magnitude, Unit};
pub use place::{Coded, OnPlane, OnScreen, Shown};
pub use points::{ParsePointsError, Points};
pub use time::{Ticks, TimeBase};
pub use upright::{Orientation, PixelShape, Upright};
#[cfg(feature = "window")]
pub(crate) use visible::steers;
pub use visible::visible;
