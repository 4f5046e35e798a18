use std::{io, path::PathBuf};

use crate::{rulebook::LoadError, store::DocumentError};

/// Why marks could not be brought to a sheet.
#[derive(Debug, thiserror::Error)]
pub enum JudgedError {
    /// The marks file could not be read.
    #[error(transparent)]
    Marks(#[from] DocumentError),
    /// The marks name no rule book.
    #[error("{marks} does not say under which rule book it was judged; name one with --rulebook")]
    NoBook {
        /// The marks file.
        marks: PathBuf,
    },
    /// The rule book that the marks name is not to be had.
    #[error("{marks} was judged under \"{name}\": {cause}{}", remedy(.cause))]
    Book {
        /// The marks file.
        marks: PathBuf,
        /// What they call the book.
        name: String,
        /// Why not.
        cause: LoadError,
    },
    /// The rule book that was named for all marks is not to be had.
    #[error(transparent)]
    Named(LoadError),
    /// The athlete's own list is there and cannot be opened.
    #[error("cannot read {list}: {cause}. Check the name and that you may open it")]
    ListUnreadable {
        /// The list.
        list: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// The athlete's own list is no such list: where, why and what to write.
    #[error("{0}")]
    List(String),
}

const fn remedy(cause: &LoadError) -> &'static str {
    match cause {
        LoadError::Unknown { .. } => ". Put its file beside the marks, or name another book",
        // The others say what to do, or show every error in its place.
        _ => "",
    }
}
