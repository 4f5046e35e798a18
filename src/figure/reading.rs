//! The drawing of one reading on one of its frames.

use super::shape::{Ink, Shape, ShapeForm, Stroke};
use crate::{
    geometry::{MeasureInput, Sight, Verdict},
    units::{Magnitude, Shown},
};

/// What is said beside a reading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Caption {
    /// Value and uncertainty, in words.
    pub value: String,
    /// What it decides.
    pub verdict: Option<Verdict>,
    /// The angle that a rule asks for, where it is to be drawn.
    pub asked: Option<Magnitude>,
}

/// Returns the drawing of what was measured on look `look` of `input`: the lines compared, the one
/// that counts, its arc and what is said of it; only the points where they make no angle.
pub fn reading(input: &MeasureInput, look: usize, said: &Caption) -> Vec<Shape> {
    let Ok(sight) = Sight::of(input) else { return points(input, look) };
    let ink = said.verdict.map_or(Ink::Counts, Ink::from);
    let mut shapes = Vec::new();
    if let Some(asked) = said.asked {
        let lines = sight.asked(look, asked);
        let text = format!("asked {}", input.quantity.write(asked));
        let label = lines.first().map(|line| Shape::Label { at: line[1], text, ink: Ink::Asked });
        let dashed = |line: [Shown; 2]| path(line.to_vec(), Ink::Asked, Stroke::Dashed);
        shapes.extend(lines.into_iter().map(dashed));
        shapes.extend(label);
    }
    shapes.extend(
        sight.landmarks(look).into_iter().map(|line| path(line.to_vec(), Ink::World, Stroke::Thin)),
    );
    for line in sight.compared(look) {
        let (ink, stroke) =
            if line.counts { (ink, Stroke::Thick) } else { (Ink::Body, Stroke::Thin) };
        shapes.push(path(line.ends.to_vec(), ink, stroke));
    }
    let arc = sight.arc(look);
    if arc.len() > 1 {
        shapes.push(path(arc, ink, Stroke::Thin));
    }
    shapes.extend(points(input, look));
    if let (Some(at), false) = (sight.beside(look), said.value.is_empty()) {
        shapes.push(Shape::Label { at, text: with_sign(said), ink });
    }
    shapes
}

/// Returns the points clicked on a look, each at the mean of its placements.
pub fn points(input: &MeasureInput, look: usize) -> Vec<Shape> {
    let spots = input.looks.get(look).into_iter().flat_map(|look| &look.spots);
    let placed = spots.filter(|spot| !spot.placed.is_empty());
    let dot = |at: Shown| Shape::Dot { at, ink: Ink::Body, form: ShapeForm::Ring };
    placed.map(|spot| dot(Shown::mean(&spot.placed))).collect()
}

fn path(through: Vec<Shown>, ink: Ink, stroke: Stroke) -> Shape {
    Shape::Path { through, ink, stroke }
}

fn with_sign(said: &Caption) -> String {
    match said.verdict {
        None => said.value.clone(),
        Some(verdict) => format!("{} {}", said.value, verdict.words()),
    }
}

impl From<Verdict> for Ink {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Clear => Self::Met,
            Verdict::NotMet => Self::Missed,
            Verdict::Close => Self::Open,
        }
    }
}
