//! Whether the camera stood still between two pictures: what their backgrounds tell.

pub mod grey;
pub mod moved;
mod patch;
