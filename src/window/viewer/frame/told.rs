//! What the widget tells the window.

use crate::{
    units::{FrameIndex, Shown},
    window::viewer::viewport::Viewport,
};

/// What the widget tells the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Told {
    /// How much room the picture has, in logical pixels.
    Room([f64; 2]),
    /// The picture was zoomed or moved with the mouse.
    Viewport(Viewport),
    /// The clip has played on.
    PlayedTo {
        /// The frame that is due.
        frame: FrameIndex,
        /// How many pictures came too late and were left out since it began to play.
        dropped: u64,
    },
    /// The clip, or the span that is played once, has played to its end.
    PlayedOut {
        /// How many pictures were drawn meanwhile, each counted once.
        drawn: u64,
        /// How many came too late and were left out.
        dropped: u64,
    },
    /// A click, or while points are placed anything else, happened at a place of the upright picture.
    Pointer(Pointer),
}

/// What the pointer does while points are placed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pointer {
    /// It is here.
    At(Shown),
    /// It was pressed and let go here.
    Clicked(Shown),
    /// It holds the handle of this number, here.
    Held(usize, Shown),
    /// It let the handle go here.
    LetGo(usize, Shown),
}

impl Pointer {
    /// Returns where it is.
    pub const fn at(self) -> Shown {
        match self {
            Self::At(at) | Self::Clicked(at) | Self::Held(_, at) | Self::LetGo(_, at) => at,
        }
    }
}
