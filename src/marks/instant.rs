//! Between which instants something happened that was seen on a frame.

use super::model::{At, What};
use crate::units::FrameRef;

impl What {
    /// Returns where it was seen with the instants between which it happened: hands leave after the
    /// last frame on which one touches, and what comes down came down before the first frame on which
    /// it is. Of the others nobody knows on which side of the frame they began.
    #[must_use]
    pub fn happened(&self, at: At) -> At {
        let side: fn(FrameRef) -> FrameRef = match self {
            Self::HandRelease => FrameRef::or_after,
            Self::HandContact { .. } | Self::HeelDrop | Self::Contact(_) | Self::Landing { .. } => {
                FrameRef::or_before
            }
            _ => return at,
        };
        match at {
            At::Frame(frame) => At::Frame(side(frame)),
            At::Span(..) | At::Place(_) => at,
        }
    }
}
