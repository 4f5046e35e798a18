//! How shapes are drawn over a picture, on the screen and on what is handed over alike: widths and
//! sizes in logical pixels, and colours.

use super::shape::{Ink, ShapeForm, Stroke};

/// A line as it is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pen {
    /// How wide it is.
    pub width: f32,
    /// Lengths of its dashes and of the gaps between them; none for a line without.
    pub dashes: &'static [f32],
}

/// What keeps drawings apart from any picture: a dark edge.
pub const EDGE: [u8; 3] = [0x12, 0x18, 0x1B];
/// How much of the picture a line's edge covers.
pub const EDGE_COVERS: f32 = 0.7;
/// By how much a line's edge is wider than the line.
pub const EDGE_WIDTH: f32 = 2.0;
/// Width of a dot's outline.
pub const DOT: Pen = Pen { width: 2.0, dashes: &[] };

/// The plate under a label.
pub mod plate {
    /// Size of its letters.
    pub const LETTERS: f32 = 15.0;
    /// Room between its edge and its words.
    pub const ROOM: f32 = 4.0;
    /// How far it lies to the right of its point, and above it.
    pub const OFF: [f32; 2] = [12.0, 8.0];
    /// How much of the picture it covers.
    pub const COVERS: f32 = 0.82;
}

/// An outline of a dot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outline {
    /// A circle of this radius.
    Circle(f32),
    /// A square of this side.
    Square(f32),
}

impl Stroke {
    /// Returns how a line is drawn.
    pub const fn pen(self) -> Pen {
        match self {
            Self::Thin => Pen { width: 1.5, dashes: &[] },
            Self::Thick => Pen { width: 3.0, dashes: &[] },
            Self::Dashed => Pen { width: 2.0, dashes: &[7.0, 5.0] },
        }
    }
}

impl ShapeForm {
    /// Returns the outlines of a dot, which leave the very pixel that was clicked in sight.
    pub const fn outlines(self) -> &'static [Outline] {
        match self {
            Self::Ring => &[Outline::Circle(5.0)],
            Self::Chosen => &[Outline::Circle(5.0), Outline::Circle(9.0)],
            Self::Square => &[Outline::Square(10.0)],
        }
    }
}

impl Ink {
    /// Returns the colour over a picture: light, so that it is seen on any ground with its dark edge.
    /// The window has other ones for body and line in its look of high contrast.
    pub const fn over_picture(self) -> [u8; 3] {
        match self {
            Self::Body => [0xE9, 0xE6, 0xDE],
            Self::Counts => [0x6C, 0xC7, 0xBD],
            Self::Met => [0x8F, 0xD8, 0x9A],
            Self::Missed => [0xF4, 0xA3, 0x96],
            Self::Open => [0xEB, 0xC7, 0x6C],
            Self::Asked => [0xF0, 0xE2, 0xB4],
            Self::World => [0xA9, 0xC2, 0xF0],
        }
    }
}
