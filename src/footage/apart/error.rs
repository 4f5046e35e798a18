use std::{
    io,
    path::{Path, PathBuf},
};

use crate::footage::error::{OpenError, not_safely};

/// Why no picture came of a clip.
#[derive(Debug, thiserror::Error)]
pub enum ApartError {
    /// The file cannot be opened.
    #[error(transparent)]
    Open(#[from] OpenError),
    /// The process could not be started.
    #[error(
        "{}: cannot be decoded, because {} cannot be started once more ({cause}); was it moved or \
         replaced while it ran? Start it anew", .clip.display(), .program.display()
    )]
    NotStarted {
        /// The clip.
        clip: PathBuf,
        /// The program.
        program: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// The process did not end as it should.
    #[error("{}", not_safely(.clip, .how))]
    Unsafe {
        /// The clip.
        clip: PathBuf,
        /// What became of the process.
        how: String,
    },
    /// The process says why, with the clip's name.
    #[error("{0}")]
    Refused(String),
}

impl ApartError {
    /// Returns the same in a few words, without the clip's name.
    pub fn in_short(&self) -> &'static str {
        match self {
            Self::Unsafe { .. } => "could not be decoded safely",
            Self::Open(_) | Self::NotStarted { .. } | Self::Refused(_) => "cannot be decoded",
        }
    }

    pub(super) fn unsafe_of(clip: &Path, how: impl Into<String>) -> Self {
        Self::Unsafe { clip: clip.to_owned(), how: how.into() }
    }
}
