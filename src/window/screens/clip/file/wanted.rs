//! What is to be opened.

use std::path::PathBuf;

/// What is to be opened.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// A clip, or a marks file whose clip lies beside it.
    pub clip: PathBuf,
    /// The marks, where they are asked for by name.
    pub marks: Option<PathBuf>,
}
