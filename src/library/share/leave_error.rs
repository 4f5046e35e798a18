//! Why a file does not leave.

use std::{error::Error, io, path::PathBuf};

use crate::{library::consent::ask::NotPermitted, store::LogError};

/// Why a file did not leave. Nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum LeaveError {
    /// The clip's record does not allow its pictures to leave.
    #[error(transparent)]
    Refused(#[from] NotPermitted),
    /// A sheet without the caution.
    #[error("{path}: a sheet never leaves without its caution; nothing was written")]
    NoCaution {
        /// Where it would have gone.
        path: PathBuf,
    },
    /// What is there already was not written by the program.
    #[error(
        "{path}: is there already and was not written by this program; give another name, or take \
         it away first"
    )]
    NotOurs {
        /// The target.
        path: PathBuf,
    },
    /// It would take the place of a clip, or of something that the program keeps.
    #[error(
        "{path}: is a clip, marks or a record, which are never written over; give another name"
    )]
    Kept {
        /// The target.
        path: PathBuf,
    },
    /// The target exists and is no file.
    #[error("{path}: is not a file, so nothing is written there; give another name")]
    NotAFile {
        /// The target.
        path: PathBuf,
    },
    /// It would take the place of a clip that it was made of.
    #[error("{path}: is the clip itself; give another name")]
    Clip {
        /// The target.
        path: PathBuf,
    },
    /// There is something already that is not to be replaced.
    #[error("{path}: is there already; give another name, or take it away first")]
    There {
        /// The target.
        path: PathBuf,
    },
    /// The system refused.
    #[error("{path}: cannot be written ({cause}); check the folder and the free space")]
    Unwritable {
        /// The target.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// It cannot be entered in the ledger, so that nobody could take it back.
    #[error("{path}: nothing was written, because it cannot be written down what leaves: {cause}")]
    Ledger {
        /// The target.
        path: PathBuf,
        /// What is wrong with the ledger, and what to do.
        cause: Box<LogError>,
    },
    /// It could not be made.
    #[error(transparent)]
    Making(Box<dyn Error + Send + Sync>),
}
