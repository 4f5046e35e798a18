//! Drawings over a frame as shapes: one list for the screen and for a printed page alike.
//!
//! All positions are upright square pixels of the picture, x to the right and y down.

mod plane;
mod reading;
mod shape;
mod svg;

pub use plane::plane;
pub use reading::{Caption, points, reading};
pub use shape::{Ink, Shape, ShapeForm, Stroke};
pub use svg::svg;
