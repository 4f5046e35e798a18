//! Angles and planes of known size on the clip screen.

pub(crate) mod begin;
pub(crate) mod camera;
mod clicking;
pub(crate) mod measuring;
pub(crate) mod planes;
pub(crate) mod remeasuring;
