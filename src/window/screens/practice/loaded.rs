//! A set: which one is wanted, and what was read of it.

use std::path::{Path, PathBuf};

use crate::{
    practice::{set::Set, sitting::Mode},
    rulebook::Book,
    store::read_text,
};

/// A set that was read.
#[derive(Clone, Debug)]
pub(crate) struct Loaded {
    pub(super) file: PathBuf,
    pub(super) set: Set,
    pub(super) book: Book,
    /// What is odd about it, in words; mostly empty.
    pub(super) warnings: String,
    /// Everybody's sittings of it.
    pub(super) sittings: Vec<PathBuf>,
}

/// Returns whether a file may be a set by its name; rule books are TOML files too.
pub(crate) fn may_be_set(path: &Path) -> bool {
    path.extension().is_some_and(|extension| extension == "toml")
}

/// Returns whether a file is a set, by its heading. Slow: not for the thread of the window.
pub(crate) fn is_set(path: &Path) -> bool {
    let text = read_text(path);
    text.is_ok_and(|text| text.lines().any(|line| line.trim() == "[set]"))
}

/// A set to sit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SittingWanted {
    /// The set's file.
    pub set: PathBuf,
    /// Code of the person or group; nothing where the window is to ask.
    pub person: Option<String>,
    /// Who answers.
    pub mode: Mode,
}

impl SittingWanted {
    /// Returns the wish to sit a set, where the window asks who.
    pub const fn of(set: PathBuf) -> Self {
        Self { set, person: None, mode: Mode::Person }
    }
}
