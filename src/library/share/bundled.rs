use std::path::PathBuf;

use crate::{library::consent::ask::NotPermitted, store::DocumentError};

use super::leave_error::LeaveError;

/// Why a bundle could not be made.
#[derive(Debug, thiserror::Error)]
pub enum BundleError {
    /// There was nothing to put in.
    #[error(
        "nothing to put into the bundle; look at what `stillcall library find` says to the same words"
    )]
    Empty,
    /// A marks file or record could not be read.
    #[error(transparent)]
    File(#[from] DocumentError),
    /// A clip could not be copied.
    #[error("{clip}: {detail}. Nothing was handed out")]
    Clip {
        /// The clip.
        clip: PathBuf,
        /// What went wrong.
        detail: String,
    },
    /// The bundle could not be written.
    #[error("{0}. Nothing was handed out")]
    Leave(#[from] LeaveError),
}

/// What went into a bundle.
#[derive(Debug, Default)]
pub struct Bundled {
    /// How many marks files.
    pub marks: usize,
    /// How many records of clips.
    pub records: usize,
    /// How many clips.
    pub clips: usize,
    /// Clips that stayed behind, with the reasons; their marks went all the same.
    pub stayed: Vec<NotPermitted>,
    /// Codes of the athletes, sorted.
    pub athletes: Vec<String>,
    /// Quick ids of the clips that it holds or tells of, sorted.
    pub of_clips: Vec<String>,
}
