//! The commonest moments, which one key each puts at the frame on screen.

use crate::marks::{BodyPart, Contact, LandingOn, Manner, Phase, What, words};

/// A moment that has a key of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Moment {
    /// A swing that is no element.
    Swing,
    /// The hands touch.
    Contact,
    /// The hands leave.
    Release,
    /// The heel of the turning foot leaves the floor.
    HeelLift,
    /// A heel comes down.
    HeelDrop,
    /// Feet on the mat.
    Landing,
    /// The body brushes the apparatus.
    Brush,
    /// A fall.
    Fall,
    /// Somebody helps.
    Spot,
    /// The movement stops.
    Stop,
}

impl Moment {
    /// Returns the moment in words.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Swing => words::SWING,
            Self::Contact => words::HAND_CONTACT,
            Self::Release => words::HAND_RELEASE,
            Self::HeelLift => words::HEEL_LIFT,
            Self::HeelDrop => words::HEEL_DROP,
            Self::Landing => "landing on the feet",
            Self::Brush => "body brushes the apparatus",
            Self::Fall => words::FALL,
            Self::Spot => words::SPOT,
            Self::Stop => words::STOP,
        }
    }

    /// Returns what is put down for it; `phase` is the phase of the exercise at that frame.
    pub(crate) fn what(self, phase: Phase) -> What {
        match self {
            Self::Swing => What::Swing,
            Self::Contact => What::HandContact { turn: None },
            Self::Release => What::HandRelease,
            Self::HeelLift => What::HeelLift,
            Self::HeelDrop => What::HeelDrop,
            Self::Landing => What::Landing { on: LandingOn::Feet, facing: None, turn: None },
            Self::Brush => {
                What::Contact(Contact { part: BodyPart::Body, phase, manner: Manner::Brush })
            }
            Self::Fall => What::Fall,
            Self::Spot => What::Spot,
            Self::Stop => What::Stop,
        }
    }

    /// Returns the moments that an event is about, the likeliest first; of an event with an id of
    /// the book's own, all.
    pub(crate) fn of_event(event: &str) -> &'static [Self] {
        match event {
            "vault" => {
                &[Self::Contact, Self::Release, Self::Landing, Self::Brush, Self::Fall, Self::Spot]
            }
            "bars" => &[Self::Swing, Self::Fall, Self::Spot, Self::Stop],
            "beam" | "floor" => {
                &[Self::HeelLift, Self::HeelDrop, Self::Fall, Self::Spot, Self::Stop]
            }
            _ => &[
                Self::Swing,
                Self::Contact,
                Self::Release,
                Self::HeelLift,
                Self::HeelDrop,
                Self::Landing,
                Self::Brush,
                Self::Fall,
                Self::Spot,
                Self::Stop,
            ],
        }
    }
}
