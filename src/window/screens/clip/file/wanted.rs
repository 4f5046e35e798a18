//! What is to be opened.

use std::path::PathBuf;

use crate::units::Ticks;

/// What is to be opened.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// A clip, or a marks file whose clip lies beside it.
    pub clip: PathBuf,
    /// The marks, where they are asked for by name.
    pub marks: Option<PathBuf>,
    /// Which frame is shown first.
    pub first: First,
}

/// Which frame is shown first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum First {
    /// That of the clip.
    OfClip,
    /// That of the first angle that was measured, else of the first fault.
    Measured,
    /// The one on screen at an instant, in ticks of the clip.
    At(Ticks),
}

impl Wanted {
    /// Returns a clip from its beginning.
    pub(crate) const fn of(clip: PathBuf, marks: Option<PathBuf>) -> Self {
        Self { clip, marks, first: First::OfClip }
    }

    /// Returns a sample clip where there is most to see.
    pub(crate) const fn sample(clip: PathBuf) -> Self {
        Self { clip, marks: None, first: First::Measured }
    }
}
