//! What is drawn: shapes in shown pixels, and what they stand for.

use crate::units::Shown;

/// One thing to draw.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A line through two or more points.
    Path {
        /// The points.
        through: Vec<Shown>,
        /// What it stands for.
        ink: Ink,
        /// How it is drawn.
        stroke: Stroke,
    },
    /// The place of a point; its size does not grow with the picture.
    Dot {
        /// Where.
        at: Shown,
        /// What it stands for.
        ink: Ink,
        /// Its shape.
        form: ShapeForm,
    },
    /// Words beside a point.
    Label {
        /// The point.
        at: Shown,
        /// The words.
        text: String,
        /// What they stand for.
        ink: Ink,
    },
}

/// What a shape stands for; every use has its own colours for them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Something clicked.
    Body,
    /// The line whose angle counts, where nothing is decided.
    Counts,
    /// The same, met.
    Met,
    /// The same, missed.
    Missed,
    /// The same, left open.
    Open,
    /// What a rule asks for.
    Asked,
    /// A plane or a line that ties the picture to the world.
    World,
}

/// How a line is drawn, so that nothing hangs on colour alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// Thin.
    Thin,
    /// Thick.
    Thick,
    /// Dashed.
    Dashed,
}

/// The shape of a dot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShapeForm {
    /// A ring: a point of the body.
    Ring,
    /// A ring with a wider one around it: the point that keys move.
    Chosen,
    /// A square: a point of a plane or line.
    Square,
}
