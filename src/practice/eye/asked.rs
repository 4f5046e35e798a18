//! What is asked about a figure, in words.

use crate::geometry::Quantity;

/// A question about a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The question.
    pub question: &'static str,
    /// From where to where the angle is counted.
    pub counted: &'static str,
}

/// Returns what is asked about a quantity.
pub const fn asked(quantity: Quantity) -> Asked {
    let (question, counted) = match quantity {
        Quantity::BodyLine => (
            "How far is the body above the horizontal?",
            "Shoulder to toes against the horizontal; below it with a minus.",
        ),
        Quantity::Repulsion => (
            "How far past the vertical is she?",
            "Hands to hips, in the direction of travel; before the vertical with a minus.",
        ),
        Quantity::OffVertical => ("How far off vertical is she?", "Hands to toes."),
        Quantity::Split => (
            "How wide is the split?",
            "Between the legs, hip to ankle; more than 180 is past the straight line.",
        ),
        Quantity::Kick => ("How high is the leg?", "Up from hanging straight down."),
        Quantity::Turn => (
            "How far was the foot turned?",
            "Seen from above, counter-clockwise from before to after.",
        ),
        Quantity::Trunk => ("How far does the trunk lean?", "Hips to shoulders off the vertical."),
        Quantity::Bend => ("How far is the joint bent?", "Straight is 0."),
        Quantity::Twist => (
            "How far is she turned about her length?",
            "Both hands from above; 0 is across the travel, the left hand on top; 90 is a quarter.",
        ),
        // Never drawn: a figure has no metres and is seen from the side.
        Quantity::Length | Quantity::Offset | Quantity::KneeDistance => ("How long is it?", ""),
    };
    Asked { question, counted }
}
