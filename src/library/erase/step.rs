//! The steps of a plan, and how each is said before it is done.

use std::{
    fmt,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

/// One step. Each can be done twice, because nobody knows whether it was done when it was cut short.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum EraseStep {
    /// Leave word of the withdrawal for other computers.
    Tell {
        /// The file that tells.
        file: PathBuf,
    },
    /// Close a clip that shows others as well, and take her out of its record.
    Close {
        /// The clip.
        clip: PathBuf,
        /// Her routines, on which nothing stays agreed.
        routines: Vec<String>,
    },
    /// Take a file away.
    Unlink {
        /// What it is.
        what: Going,
        /// Where it lies.
        path: PathBuf,
        /// Quick id of what is to go; what has another content by now is looked at anew. Empty
        /// where whatever lies there goes.
        quick_id: String,
    },
    /// Take looks at clips that go out of a set; a set that has none left goes.
    TakeOutOfSet {
        /// The set.
        set: PathBuf,
    },
    /// Write into a marks file what its undo history holds beyond it, and take the history away.
    ForgetHistory {
        /// The marks file; nothing where it is not known.
        marks: Option<PathBuf>,
        /// The history.
        journal: PathBuf,
    },
    /// Take it out of a list of the library.
    Forget(ErasedFrom),
}

/// What a file is that goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Going {
    /// A clip or a copy of it, an excerpt, or a link to one.
    Clip,
    /// A still or a small picture.
    Picture,
    /// A bundle that was handed out.
    Bundle,
    /// A file that was cut short while it was made, and may hold anything.
    Unfinished,
    /// A sheet or another page.
    Page,
    /// Undo history.
    History,
    /// Marks.
    Marks,
    /// A record of a clip, or an athlete's own list.
    Record,
    /// What proved which frame is which.
    Proof,
}

/// A list of the library.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum ErasedFrom {
    /// What was made.
    Made,
    /// What was handed out.
    HandedOut,
    /// The searches that are kept.
    Searches,
    /// The clips that the window remembers to have been opened last.
    Recent,
    /// The index.
    Index,
}

impl EraseStep {
    /// Returns the file that it touches.
    pub fn path(&self) -> Option<&Path> {
        match self {
            Self::Tell { file: path }
            | Self::Close { clip: path, .. }
            | Self::Unlink { path, .. }
            | Self::TakeOutOfSet { set: path }
            | Self::ForgetHistory { journal: path, .. } => Some(path),
            Self::Forget(_) => None,
        }
    }

    /// Returns where it stands in the order: lower first.
    pub(crate) fn order(&self) -> u8 {
        match self {
            Self::Tell { .. } => 0,
            Self::Close { .. } => 1,
            Self::Unlink { what, .. } => match what {
                Going::Clip | Going::Picture | Going::Bundle | Going::Unfinished => 2,
                Going::Page => 4,
                Going::History | Going::Proof => 5,
                Going::Marks => 6,
                Going::Record => 7,
            },
            Self::TakeOutOfSet { .. } => 3,
            Self::ForgetHistory { .. } => 5,
            Self::Forget(_) => 8,
        }
    }
}

/// In the words of a plan: what would be done.
impl fmt::Display for EraseStep {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Tell { file } => {
                write!(f, "would leave word for other computers: {}", file.display())
            }
            Self::Close { clip, .. } => {
                write!(f, "shows others as well: {}; would be closed", clip.display())
            }
            Self::Unlink { what, path, .. } => write!(f, "would go: {what}: {}", path.display()),
            Self::TakeOutOfSet { set } => {
                write!(f, "would lose the looks at these clips: {}", set.display())
            }
            Self::ForgetHistory { marks: Some(path), .. } => {
                write!(f, "would lose its undo history: {}", path.display())
            }
            Self::ForgetHistory { journal, .. } => {
                write!(f, "would go: undo history: {}", journal.display())
            }
            Self::Forget(list) => write!(f, "would go out of {list}"),
        }
    }
}

impl fmt::Display for Going {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Clip => "clip",
            Self::Picture => "picture",
            Self::Bundle => "bundle",
            Self::Unfinished => "unfinished file",
            Self::Page => "page",
            Self::History => "undo history",
            Self::Marks => "marks",
            Self::Record => "record",
            Self::Proof => "frame proof",
        })
    }
}

impl fmt::Display for ErasedFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Made => "the list of what was made",
            Self::HandedOut => "the list of what was handed out",
            Self::Searches => "the kept searches",
            Self::Recent => "the clips opened last",
            Self::Index => "the index",
        })
    }
}
