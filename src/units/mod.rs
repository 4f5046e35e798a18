//! Quantities that every room shares, each in a type of its own so that they cannot be mixed up.
//!
//! This room depends on nothing of the crate and reads nothing from the world.

mod content;
mod counted;
mod degrees;
mod fixed;
mod frame_ref;
mod magnitude;
mod place;
mod points;
mod time;
mod upright;

pub use content::{content_hash, quick_id};
pub use counted::counted;
pub use degrees::Degrees;
pub use fixed::fixed;
pub use frame_ref::{Field, FrameIndex, FrameRef};
pub use magnitude::{Magnitude, Unit};
pub use place::{Coded, OnPlane, OnScreen, Shown};
pub use points::{ParsePointsError, Points};
pub use time::{Ticks, TimeBase};
pub use upright::{Orientation, PixelShape, Upright};
