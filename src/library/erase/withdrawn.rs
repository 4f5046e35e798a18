//! Every withdrawal that is known here.

use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::tombstone::{Tombstone, in_folder};
use crate::library::home::folder::Home;

/// Every withdrawal that is known of.
#[derive(Debug, Default)]
pub struct Withdrawn(Vec<Tombstone>);

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
