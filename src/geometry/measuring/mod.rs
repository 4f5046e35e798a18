//! From everything that was clicked for a measurement to its value with its interval.

mod bound;
mod bounds;
mod depth;
pub(super) mod ground;
mod joining;
mod joints;
pub(super) mod measure;
pub(super) mod measured;
pub(super) mod model;
mod passing;
mod tilted;
