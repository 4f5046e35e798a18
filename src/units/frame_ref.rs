use std::fmt;

use serde::{Deserialize, Serialize};

use super::Ticks;

/// The number of a frame in presentation order, counted from 0; no count of frames is one.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct FrameIndex(pub u64);

impl FrameIndex {
    /// The first frame of a clip.
    pub const FIRST: Self = Self(0);

    /// Returns the frame so many later, or earlier; none before the first.
    #[must_use]
    pub const fn stepped(self, by: i64) -> Self {
        Self(self.0.saturating_add_signed(by))
    }

    /// Returns how many frames lie from another one to this; none where that one is later.
    pub const fn since(self, other: Self) -> u64 {
        self.0.saturating_sub(other.0)
    }
}

impl From<usize> for FrameIndex {
    /// Returns the number of a frame that has this place in a list of all.
    fn from(place: usize) -> Self {
        Self(place as u64)
    }
}

impl From<FrameIndex> for usize {
    /// Returns the frame's place in a list of all.
    fn from(frame: FrameIndex) -> Self {
        frame.0 as Self
    }
}

impl fmt::Display for FrameIndex {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// One field of an interlaced frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PictureField {
    /// The field with the even picture rows, counted from 0.
    Top,
    /// The field with the odd picture rows.
    Bottom,
}

/// The frame a person looked at, kept so that it is found again and that a sheet never needs
/// the clip.
///
/// The time stamp decides which frame is meant; the index decides where two frames share it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FrameRef {
    /// When the frame is shown.
    pub ticks: Ticks,
    /// Its number.
    pub index: FrameIndex,
    /// The field, where one field of an interlaced frame was meant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub field: Option<PictureField>,
    /// The earliest instant at which the event seen on this frame can have happened.
    pub lo: Ticks,
    /// The latest such instant.
    pub hi: Ticks,
}

impl FrameRef {
    /// Returns what frame references are ordered by.
    pub fn order(&self) -> (Ticks, FrameIndex, Option<PictureField>) {
        (self.ticks, self.index, self.field)
    }

    /// Returns it as the last frame of what was before: the event lies on it or after it.
    #[must_use]
    pub fn or_after(self) -> Self {
        Self { lo: self.ticks.min(self.hi), ..self }
    }

    /// Returns it as the first frame of what is then: the event lies on it or before it.
    #[must_use]
    pub fn or_before(self) -> Self {
        Self { hi: self.ticks.max(self.lo), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_stepped_before_the_first_frame() {
        assert_eq!(FrameIndex(3).stepped(-2), FrameIndex(1));
        assert_eq!(FrameIndex(3).stepped(-4), FrameIndex::FIRST);
        assert_eq!(
            (FrameIndex(7).since(FrameIndex(3)), FrameIndex(3).since(FrameIndex(7))),
            (4, 0)
        );
    }

    #[test]
    fn a_frames_number_is_written_as_a_number() {
        assert_eq!(serde_json::to_string(&FrameIndex(12)).unwrap(), "12");
        assert_eq!(FrameIndex(12).to_string(), "12");
    }
}
