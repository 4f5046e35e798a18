//! What the eye is trained on: a question, its figure, and which angles are drawn.

use super::figure::{
    Figure, bend, body_line, handstand, kick, repulsion, split, trunk, turn, twist,
};
use crate::geometry::Quantity;

/// A question and the figures it is asked of.
pub(super) struct Drill {
    /// What is asked.
    pub quantity: Quantity,
    /// The question in words.
    pub question: &'static str,
    /// From where to where the angle is counted.
    pub counted: &'static str,
    /// From and to which angle figures are drawn, in degrees.
    pub range: [f64; 2],
    /// Draws the figure square on, at so many degrees; a share divides a split between the legs.
    pub draw: fn(f64, f64) -> Figure,
}

/// Every drill; not every quantity has one, and of lengths there is none, because a figure has no
/// metres.
pub(super) static DRILLS: [Drill; 9] = [
    Drill {
        quantity: Quantity::BodyLine,
        question: "How far is the body above the horizontal?",
        counted: "Shoulder to toes against the horizontal; below it with a minus.",
        range: [-30.0, 85.0],
        draw: |degrees, _| body_line(degrees),
    },
    Drill {
        quantity: Quantity::Repulsion,
        question: "How far past the vertical is she?",
        counted: "Hands to hips, in the direction of travel; before the vertical with a minus.",
        range: [-15.0, 60.0],
        draw: |degrees, _| repulsion(degrees),
    },
    Drill {
        quantity: Quantity::OffVertical,
        question: "How far off vertical is she?",
        counted: "Hands to toes.",
        range: [0.0, 45.0],
        draw: |degrees, _| handstand(degrees),
    },
    Drill {
        quantity: Quantity::Split,
        question: "How wide is the split?",
        counted: "Between the legs, hip to ankle; more than 180 is past the straight line.",
        range: [90.0, 185.0],
        draw: split,
    },
    Drill {
        quantity: Quantity::Kick,
        question: "How high is the leg?",
        counted: "Up from hanging straight down.",
        range: [20.0, 150.0],
        draw: |degrees, _| kick(degrees),
    },
    Drill {
        quantity: Quantity::Turn,
        question: "How far was the foot turned?",
        counted: "Seen from above, counter-clockwise from before to after.",
        range: [60.0, 179.0],
        draw: |degrees, _| turn(degrees),
    },
    Drill {
        quantity: Quantity::Trunk,
        question: "How far does the trunk lean?",
        counted: "Hips to shoulders off the vertical.",
        range: [0.0, 45.0],
        draw: |degrees, _| trunk(degrees),
    },
    Drill {
        quantity: Quantity::Bend,
        question: "How far is the joint bent?",
        counted: "Straight is 0.",
        range: [5.0, 120.0],
        draw: |degrees, _| bend(degrees),
    },
    Drill {
        quantity: Quantity::Twist,
        question: "How far is she turned about her length?",
        counted: "Both hands from above; 0 is across the travel, the left hand on top; 90 is a \
                  quarter.",
        range: [60.0, 179.0],
        draw: |degrees, _| twist(degrees),
    },
];
