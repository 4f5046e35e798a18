//! What erasing will do, as a plain value: shown before it is done, kept until all of it is done.

use std::{
    fmt,
    path::{Path, PathBuf},
};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::wish::{EraseWish, Witnessed};
use crate::library::home::ledger::HandedOut;

/// Everything that erasing will do, in the order in which it is done: what closes clips and leaves
/// word first, then pictures, then what is written of them, and what tells of them last.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ErasePlan {
    /// Random name, by which the log and what is left in folders know it.
    pub id: String,
    /// What was asked for.
    pub wish: EraseWish,
    /// Who erases, and who looks on.
    pub witnessed: Witnessed,
    /// Day on which it was drawn up.
    pub on: Date,
    /// The contents of clips that go, wherever they lie.
    pub contents: Vec<ErasedContent>,
    /// The contents of clips that stay closed, because they show others as well.
    pub closed: Vec<ErasedContent>,
    /// The contents of what is written of her and of them: pages, marks, records.
    pub written: Vec<ErasedContent>,
    /// Files that have one of these.
    pub closed_clips: Vec<PathBuf>,
    /// What is done.
    pub steps: Vec<EraseStep>,
    /// Files with the content of a deleted clip that stay, because one copy alone was named.
    pub stays: Vec<PathBuf>,
    /// Bundles that hold something of it and were handed out, for somebody to write to.
    pub handed_out: Vec<HandedOut>,
    /// What cannot be reached.
    pub unreached: Vec<Unreached>,
}

/// Content by which a file is known wherever it lies.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct ErasedContent {
    /// Length in bytes.
    pub length: u64,
    /// Quick id.
    pub quick_id: String,
    /// BLAKE3 hash of all bytes, in hex.
    pub hash: String,
}

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
    /// The index.
    Index,
}

/// What is out of reach, and what to do.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Unreached {
    /// Where it is.
    pub path: PathBuf,
    /// Why it is out of reach.
    pub why: String,
    /// What to do.
    pub remedy: String,
    /// Whether the program tries again by itself, and counts as unfinished until it has.
    pub tries_again: bool,
}

impl ErasePlan {
    /// Returns whether there is nothing to do.
    pub fn is_empty(&self) -> bool {
        self.steps.is_empty()
    }

    /// Returns what it is, in words that name nobody.
    pub fn in_words(&self) -> String {
        let what = match &self.wish {
            EraseWish::Clip { .. } => "deleting a clip",
            EraseWish::Athlete { .. } => "a withdrawal",
            EraseWish::BroughtBack => "deleting what was brought back after a withdrawal",
        };
        let Witnessed { by, witness } = &self.witnessed;
        format!("{what} by {by}, witnessed by {witness}, begun on {}", self.on)
    }

    /// Returns the files that are taken away.
    pub fn files(&self) -> impl Iterator<Item = &Path> {
        self.steps.iter().filter_map(|step| match step {
            EraseStep::Unlink { path, .. } | EraseStep::ForgetHistory { journal: path, .. } => {
                Some(path.as_path())
            }
            _ => None,
        })
    }

    /// Returns whether the content of quick id goes.
    pub(crate) fn erases(&self, quick_id: &str) -> bool {
        self.contents.iter().any(|content| content.quick_id == quick_id)
    }

    /// Returns whether a look of a set is at a clip that goes or is closed.
    pub(crate) fn look_goes(
        &self,
        is_gone: &dyn Fn(&Path) -> bool,
        set: &Path,
        (clip, hash): (&str, &str),
    ) -> bool {
        let by_content = !hash.is_empty() && self.ends_use_of(|content| content.hash == hash);
        by_content || is_gone(&set.with_file_name("").join(clip))
    }

    /// Returns whether no use of content is left: it goes, or is closed.
    pub(crate) fn ends_use_of(&self, is_it: impl Fn(&ErasedContent) -> bool) -> bool {
        self.contents.iter().chain(&self.closed).any(is_it)
    }
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
                Going::History => 5,
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
        })
    }
}

impl fmt::Display for ErasedFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Made => "the list of what was made",
            Self::HandedOut => "the list of what was handed out",
            Self::Searches => "the kept searches",
            Self::Index => "the index",
        })
    }
}

impl fmt::Display for Unreached {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}; {}", self.path.display(), self.why, self.remedy)
    }
}
