use std::{io, path::PathBuf};

use crate::{
    library::{home::shelf::ShelfError, index::database::IndexError},
    store::{DocumentError, LogError},
};

/// Why something could not be erased. What was begun is finished by the next command of the library.
#[derive(Debug, thiserror::Error)]
pub enum EraseError {
    /// Nobody else looks on.
    #[error("deleting needs a witness other than \"{by}\": a second adult who looks on")]
    NoWitness {
        /// Who deletes.
        by: String,
    },
    /// The file is open in a window.
    #[error("{path} is open in a window of this program. Close it, then delete again")]
    Open {
        /// The marks file.
        path: PathBuf,
    },
    /// The clip cannot be read.
    #[error("cannot delete {path}: {source}. Nothing was deleted; check the name")]
    NoClip {
        /// The clip.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The code stands nowhere.
    #[error(
        "nothing here names {code}, so nothing was deleted. Check the code; `stillcall library find \
         athlete CODE` finds an athlete's routines"
    )]
    NobodyOfThatCode {
        /// The code.
        code: String,
    },
    /// Whoever carried it out was stopped.
    #[error("it was stopped before its end; the next command of the library goes on with it")]
    Stopped,
    /// A file that is needed cannot be read or written.
    #[error("cannot use {path}: {source}. The next command of the library goes on with it")]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A record or marks file could not be changed.
    #[error(transparent)]
    Document(#[from] DocumentError),
    /// A list of what was made, handed out or deleted could not be changed.
    #[error(transparent)]
    List(#[from] LogError),
    /// The list of folders and searches could not be changed.
    #[error(transparent)]
    Shelf(#[from] ShelfError),
    /// The index could not be brought up to date.
    #[error(transparent)]
    Index(#[from] IndexError),
}
