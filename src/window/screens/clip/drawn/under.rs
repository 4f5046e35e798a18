//! How much room there is under the picture, and what fits into it.

use iced::Size;

use super::ribbon::{EACH_SIDE, EACH_SIDE_NARROW};
use crate::window::theme::part;

/// How much room there is for what stands under the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Under {
    /// Everything stands side by side.
    Wide,
    /// The same without gaps, so that the frame's time keeps its room.
    Close,
    /// The buttons stand beneath the frame's number, and fewer small pictures.
    Narrow,
    /// The picture keeps half of the height: no small pictures, and only what has no other place.
    Low,
}

impl Under {
    /// Returns what fits the room of picture and all under it, in logical pixels.
    pub(crate) fn of(room: Size) -> Self {
        if room.height < part::LOW {
            Self::Low
        } else if room.width < part::NARROW {
            Self::Narrow
        } else if room.width < part::CLOSE {
            Self::Close
        } else {
            Self::Wide
        }
    }

    /// Returns the height of what stands above the clip line: always the same, so that nothing
    /// moves the picture.
    pub(crate) const fn height(self) -> f32 {
        match self {
            Self::Wide | Self::Close => 130.0,
            Self::Narrow => 190.0,
            Self::Low => 62.0,
        }
    }

    pub(crate) const fn each_side(self) -> u64 {
        match self {
            Self::Wide | Self::Close => EACH_SIDE,
            Self::Narrow | Self::Low => EACH_SIDE_NARROW,
        }
    }
}
