//! A plane of known size: its map to the picture, and the camera that sees it so.

pub(super) mod check;
pub(super) mod fixed;
pub mod homography;
pub mod pose;
