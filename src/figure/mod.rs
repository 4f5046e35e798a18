//! Drawings over a frame as shapes: one list for the screen and for a printed page alike.
//!
//! All positions are upright square pixels of the picture, x to the right and y down.

mod kept;
#[cfg(feature = "video")]
mod letters;
mod limbs;
mod pen;
mod plane;
#[cfg(feature = "video")]
mod raster;
mod reading;
mod shape;
mod svg;

pub use kept::{caption, kept};
#[cfg(feature = "video")]
pub use letters::FONT;
pub use limbs::limbs;
pub use pen::{DOT, EDGE, EDGE_COVERS, EDGE_WIDTH, Outline, Pen, plate};
pub use plane::plane;
#[cfg(feature = "video")]
pub use raster::{Laid, paint, paint_caption, unit};
pub use reading::{Caption, points, reading};
pub use shape::{Ink, Shape, ShapeForm, Stroke};
pub use svg::svg;
