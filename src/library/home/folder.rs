use std::{
    io,
    path::{Path, PathBuf},
};

use etcetera::BaseStrategy as _;

use crate::{marks::StateFolder, store::own_folder};

/// The folder of this user in which the library keeps what is its own: the index, the list of
/// folders, and what was made, handed out and deleted.
#[derive(Clone, Debug)]
pub struct Home(PathBuf);

impl Home {
    /// Returns the folder `library` in the one named by `STILLCALL_STATE`, or in the one that the
    /// system sets aside for programs' data; nothing when the user has no home folder.
    pub fn of_user() -> Option<Self> {
        if let Some(named) = StateFolder::named() {
            return Some(Self(named.path().join("library")));
        }
        let base = etcetera::choose_base_strategy().ok()?;
        Some(Self(base.data_dir().join("stillcall").join("library")))
    }

    /// Returns `folder` as the library's own.
    pub fn at(folder: impl Into<PathBuf>) -> Self {
        Self(folder.into())
    }

    /// Returns the folder.
    pub fn path(&self) -> &Path {
        &self.0
    }

    /// Returns the folder with a note for each file that is being made.
    pub fn notes(&self) -> PathBuf {
        self.0.join("unfinished")
    }

    /// Returns a file of the folder, which is made first.
    pub fn file(&self, name: &str) -> io::Result<PathBuf> {
        own_folder(&self.0)?;
        Ok(self.0.join(name))
    }
}
