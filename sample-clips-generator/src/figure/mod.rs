//! The jointed figure: its sizes, its pose, its joints in space, and how it is played.

pub mod body;
pub mod curve;
pub mod pose;
pub mod reach;
pub mod script;
pub mod skeleton;
pub mod take;

pub use pose::{Arm, Leg, Pose};
pub use script::{Foot, Hand, Hold, Root, Script};
pub use skeleton::{Skeleton, V3};
pub use take::{Seam, Take};
