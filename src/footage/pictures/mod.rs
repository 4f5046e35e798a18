//! A decoded picture: how its samples lie, stand and become colours.

pub(crate) mod colour;
mod convert;
pub(crate) mod picture;
pub(crate) mod planes;
mod scale;
mod tone;
