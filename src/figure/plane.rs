//! The drawing of a reference plane.

use super::shape::{Ink, Shape, ShapeForm, Stroke};
use crate::units::Shown;

/// Returns the outline of a plane through its points, in the order in which they were placed, and
/// the points themselves; closed from the third on.
pub fn plane(corners: &[Shown], name: &str) -> Vec<Shape> {
    let mut through = corners.to_vec();
    if corners.len() > 2 {
        through.extend(corners.first());
    }
    let dot = |at: &Shown| Shape::Dot { at: *at, ink: Ink::World, form: ShapeForm::Square };
    let mut shapes: Vec<Shape> = corners.iter().map(dot).collect();
    if through.len() > 1 {
        shapes.insert(0, Shape::Path { through, ink: Ink::World, stroke: Stroke::Thin });
    }
    if let (Some(at), false) = (corners.first(), name.is_empty()) {
        shapes.push(Shape::Label { at: *at, text: name.to_owned(), ink: Ink::World });
    }
    shapes
}
