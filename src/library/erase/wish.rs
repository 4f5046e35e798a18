//! What is to be erased, who does it, and what with.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use crate::{
    library::{
        consent::code::Code,
        home::{folder::Home, shelf::Shelf},
        index::database::Index,
    },
    marks::StateFolder,
};

/// Who deletes, and who looks on.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Witnessed {
    /// Who deletes, by role or code.
    pub by: String,
    /// Who witnesses it: somebody else.
    pub witness: String,
}

/// Whether marks and numbers outlive their clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Marks {
    /// They are kept; they hold codes and numbers, no pictures.
    Keep,
    /// They go as well, with their undo history.
    Delete,
}

/// Whether what was cut from a clip outlives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Excerpts {
    /// It stays: the clip was cut so that only its excerpts are kept.
    Keep,
    /// It goes as well.
    Delete,
}

/// Whether other files with the content of a clip outlive it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Copies {
    /// They stay, with everything that was made of them.
    Keep,
    /// They go as well.
    Delete,
}

/// What to do with a clip on which others are filmed as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Shared {
    /// It stays, closed for every use but watching, until somebody cuts or covers it.
    Close,
    /// It goes, with everything of the others on it.
    Delete,
}

/// What is to be erased.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum EraseWish {
    /// A clip with what was made of it.
    Clip {
        /// The clip.
        path: PathBuf,
        /// Its marks.
        marks: Marks,
        /// What was cut from it.
        excerpts: Excerpts,
        /// Other files with its content.
        copies: Copies,
    },
    /// Everything of an athlete who withdraws her consent.
    Athlete {
        /// Her code.
        code: Code,
        /// Clips that show others as well.
        shared: Shared,
    },
    /// What was erased before and is there again.
    BroughtBack,
}

/// What erasing works with.
#[derive(Clone, Copy, Debug)]
pub struct Places<'a> {
    /// The library's own folder.
    pub home: &'a Home,
    /// The library's folders.
    pub shelf: &'a Shelf,
    /// The index.
    pub index: &'a Index,
    /// Where journals are.
    pub state: Option<&'a StateFolder>,
}

/// What touches the disk while a plan is carried out; a test puts another in its place.
pub trait EraseHands {
    /// Returns whether to go on; asked before each step is written down, and before it is done.
    fn goes_on(&mut self) -> bool {
        true
    }

    /// Takes a file away.
    fn unlink(&mut self, path: &Path) -> io::Result<()> {
        fs::remove_file(path)
    }
}

/// The hands of the program itself.
#[derive(Clone, Copy, Debug, Default)]
pub struct OwnHands;

impl EraseHands for OwnHands {}

impl EraseWish {
    /// Returns the athlete who withdraws.
    pub(crate) fn code(&self) -> Option<&Code> {
        if let Self::Athlete { code, .. } = self { Some(code) } else { None }
    }

    /// Returns what is written down as the reason.
    pub(crate) fn why(&self) -> &'static str {
        match self {
            Self::Clip { .. } => "deleted",
            Self::Athlete { .. } => "consent withdrawn",
            Self::BroughtBack => "brought back after a withdrawal",
        }
    }

    /// Returns whether marks outlive their clip.
    pub(crate) fn keeps_marks(&self) -> bool {
        matches!(self, Self::Clip { marks: Marks::Keep, .. })
    }
}
