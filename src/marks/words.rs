//! What is seen, in words: the same on screen, on the sheet and in the line where one writes.

use super::model::{Seen, What};

// Named for tables that are made while compiling.
pub(crate) const SWING: &str = "swing";
pub(crate) const HAND_CONTACT: &str = "hand contact";
pub(crate) const HAND_RELEASE: &str = "hand release";
pub(crate) const HEEL_LIFT: &str = "heel lift";
pub(crate) const HEEL_DROP: &str = "heel drop";
pub(crate) const FALL: &str = "fall";
pub(crate) const SPOT: &str = "spot";
pub(crate) const STOP: &str = "stop";

impl Seen {
    /// Returns what is added to a mark that was not plainly seen.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Yes => "",
            Self::No => "did not happen",
            Self::CantTell => "can't tell",
            Self::NotVisible => "not visible",
        }
    }
}

impl What {
    /// Returns what a judge calls it; an element and a fault go by the book's names instead.
    pub(crate) const fn name(&self) -> &'static str {
        match self {
            Self::Element { .. } => "element",
            Self::Fault { .. } => "fault",
            Self::Swing => SWING,
            Self::HandContact { .. } => HAND_CONTACT,
            Self::HandRelease => HAND_RELEASE,
            Self::HeelLift => HEEL_LIFT,
            Self::HeelDrop => HEEL_DROP,
            Self::Contact(_) => "contact",
            Self::Landing { .. } => "landing",
            Self::Fall => FALL,
            Self::Spot => SPOT,
            Self::Stop => STOP,
            Self::Note => "remark",
        }
    }

    /// Returns whether the other is the same kind of thing, whatever its details.
    pub(crate) fn is_like(&self, other: &Self) -> bool {
        std::mem::discriminant(self) == std::mem::discriminant(other)
    }
}
