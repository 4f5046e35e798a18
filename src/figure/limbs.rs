//! A figure of lines between the joints that were marked.

use super::shape::{Ink, Shape, ShapeForm, Stroke};
use crate::units::Shown;

/// Joints between which a limb or the trunk lies, in the words of the quantities' points.
const LIMBS: [[&str; 2]; 9] = [
    ["shoulder", "hip"],
    ["hip", "knee"],
    ["knee", "ankle"],
    ["knee", "toe"],
    ["ankle", "toe"],
    ["ankle", "heel"],
    ["heel", "toe"],
    ["hand", "shoulder"],
    ["hip", "ankle"],
];
/// Joints across the body.
const ACROSS: [&str; 2] = ["shoulder", "hip"];
const SIDES: [&str; 2] = ["left ", "right "];

/// Returns the limbs between joints of one frame, and the joints; a joint placed more than once stands
/// at the mean.
pub fn limbs(joints: &[(&str, Shown)]) -> Vec<Shape> {
    let at = |name: &str| {
        let same = joints.iter().filter(|(known, at)| *known == name && at.is_finite());
        let places: Vec<Shown> = same.map(|(_, at)| *at).collect();
        (!places.is_empty()).then(|| Shown::mean(places))
    };
    let mut shapes = Vec::new();
    let mut join = |a: Option<Shown>, b: Option<Shown>| {
        let (Some(a), Some(b)) = (a, b) else { return };
        shapes.push(Shape::Path { through: vec![a, b], ink: Ink::Body, stroke: Stroke::Thick });
    };
    for side in ["", SIDES[0], SIDES[1]] {
        let of = |name: &str| at(&format!("{side}{name}"));
        for [a, b] in LIMBS {
            // A leg whose knee is marked does not go straight from hip to ankle, nor from knee to toe.
            let by_way = match [a, b] {
                ["hip", "ankle"] => of("knee"),
                ["knee", "toe"] => of("ankle"),
                ["ankle", "toe"] => of("heel"),
                _ => None,
            };
            if by_way.is_none() {
                join(of(a), of(b));
            }
        }
    }
    for name in ACROSS {
        let [left, right] = SIDES.map(|side| at(&format!("{side}{name}")));
        join(left, right);
    }
    let mut names: Vec<&str> = joints.iter().map(|(name, _)| *name).collect();
    names.sort_unstable();
    names.dedup();
    let dot = |at| Shape::Dot { at, ink: Ink::Body, form: ShapeForm::Ring };
    shapes.extend(names.into_iter().filter_map(at).map(dot));
    shapes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_leg_bends_at_its_knee() {
        let joints = [
            ("left hip", Shown([0.0, 0.0])),
            ("left ankle", Shown([0.0, 10.0])),
            ("right hip", Shown([2.0, 0.0])),
        ];
        let lines = |shapes: &[Shape]| {
            let path = |shape: &Shape| match shape {
                Shape::Path { through, .. } => Some(through.clone()),
                _ => None,
            };
            shapes.iter().filter_map(path).collect::<Vec<_>>()
        };
        let straight = limbs(&joints);
        assert_eq!(
            lines(&straight),
            [
                vec![Shown([0.0, 0.0]), Shown([0.0, 10.0])],
                vec![Shown([0.0, 0.0]), Shown([2.0, 0.0])]
            ]
        );
        assert_eq!(straight.len(), 5, "three joints");
        let bent = limbs(&[&joints[..], &[("left knee", Shown([4.0, 5.0]))]].concat());
        let through = vec![Shown([0.0, 0.0]), Shown([4.0, 5.0])];
        assert!(lines(&bent).contains(&through) && lines(&bent).len() == 3);
    }
}
