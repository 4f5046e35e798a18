//! A decoded picture: how its samples lie, stand and become colours.

pub(crate) mod colour;
pub(crate) mod convert;
pub(crate) mod picture;
pub(crate) mod tone;
