//! Going through the clip: frames, stretches, and what the rules look at.

pub(crate) mod going;
pub(crate) mod jump;
mod jumping;
pub(crate) mod picture;
mod turning;
mod unproved;
pub(crate) mod walk;
mod walking;
