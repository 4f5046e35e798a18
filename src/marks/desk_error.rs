use std::path::PathBuf;

use super::{journal::JournalError, version::Version};
use crate::store::DocumentError;

/// Why marks could not be opened, changed or saved.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The marks file.
    #[error(transparent)]
    File(#[from] DocumentError),
    /// The journal.
    #[error(transparent)]
    Journal(#[from] JournalError),
    /// The file on disk is no longer the one that was opened.
    #[error(
        "{path} was changed by another program while it was open here. Nothing was overwritten: \
         save under another name, or close and open it again"
    )]
    ChangedOutside {
        /// The file.
        path: PathBuf,
    },
    /// The file on disk is another version of the same marks, which can be joined with this one.
    #[error(
        "{} was changed on another computer or by another program while it was open here. Nothing \
         was overwritten: open it again, and both are joined", .0.path.display()
    )]
    OtherVersion(Box<Version>),
    /// A new marks file would have written over an old one.
    #[error("{path} is there already. Open it instead, or choose another judge code")]
    Exists {
        /// The file.
        path: PathBuf,
    },
}
