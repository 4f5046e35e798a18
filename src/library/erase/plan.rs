//! What erasing will do, as a plain value: shown before it is done, kept until all of it is done.

use std::{
    fmt,
    path::{Path, PathBuf},
};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::{
    step::EraseStep,
    wish::{EraseWish, Witnessed},
};
use crate::library::home::ledger::HandedOut;

/// What no program can reach.
pub const NOT_REACHED: &str = "\
Not reached, and for the club to see to: backups, the system's trash, copies that a program keeps in
step on other devices, cards and cameras, and whatever was handed out.";

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

    /// Returns whether a path that is remembered somewhere tells of what goes.
    pub(crate) fn is_told_by(&self, path: &str) -> bool {
        self.files().any(|file| file == Path::new(path))
            || self.wish.code().is_some_and(|code| code.is_in(path.as_bytes()))
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

impl fmt::Display for Unreached {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}; {}", self.path.display(), self.why, self.remedy)
    }
}
