//! Every withdrawal that is known here.

use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::tombstone::{Tombstone, in_folder};
use crate::library::{
    consent::code::Code,
    home::{
        folder::Home,
        shelf::{Shelf, ShelfError},
    },
};

/// Every withdrawal that is known of.
#[derive(Debug, Default)]
pub struct Withdrawn(Vec<Tombstone>);

/// Why a code may not be given to anybody.
#[derive(Debug, thiserror::Error)]
pub enum CodeRefused {
    /// Its athlete withdrew: what is noted under it would be deleted.
    #[error("{code} withdrew on {on}; whoever it is now needs another code")]
    Withdrawn {
        /// The code.
        code: Code,
        /// Day.
        on: Date,
    },
    /// The folders, in which word of a withdrawal may lie, are not known.
    #[error(transparent)]
    Shelf(#[from] ShelfError),
}

/// Fails for the code of an athlete who withdrew, by what the library that is kept here and its
/// folders know.
pub fn refuse_withdrawn(home: Option<&Home>, code: &Code) -> Result<(), CodeRefused> {
    let Some(home) = home else { return Ok(()) };
    let folders = Shelf::read(home)?.folders;
    match Withdrawn::known(Some(home), &folders).since(code.as_str()) {
        Some(on) => Err(CodeRefused::Withdrawn { code: code.clone(), on }),
        None => Ok(()),
    }
}

impl Withdrawn {
    /// Returns what this user's library and these folders know of.
    pub fn known(home: Option<&Home>, folders: &[PathBuf]) -> Self {
        let own = home.map(own_folder);
        let folders = own.iter().chain(folders).flat_map(|folder| in_folder(folder));
        let mut all: Vec<Tombstone> = folders.collect();
        all.sort_by(|a, b| a.id.cmp(&b.id));
        Self(all)
    }

    /// Returns what is known around a folder into which something is taken: there, in the folders
    /// above it, and in this user's library.
    pub fn around(home: Option<&Home>, folder: &Path) -> Self {
        let folder = folder.canonicalize().unwrap_or_else(|_| folder.to_owned());
        let above: Vec<PathBuf> = folder.ancestors().map(Path::to_owned).collect();
        Self::known(home, &above)
    }

    /// Returns every word of a withdrawal.
    pub fn all(&self) -> &[Tombstone] {
        &self.0
    }

    /// Returns the day on which the athlete of this code withdrew.
    pub fn since(&self, code: &str) -> Option<Date> {
        let of_her = self.0.iter().filter(|word| !code.is_empty() && word.names(code));
        of_her.map(|word| word.on).max()
    }

    /// Returns whether content of this hash was withdrawn.
    pub fn names_content(&self, hash: &str) -> bool {
        let contents = self.0.iter().flat_map(|word| word.contents.iter().chain(&word.written));
        contents.into_iter().any(|content| !hash.is_empty() && content.hash == hash)
    }
}

/// Returns the folder of this user's library for word of withdrawals that were carried out here.
pub(crate) fn own_folder(home: &Home) -> PathBuf {
    home.path().join("withdrawn")
}
