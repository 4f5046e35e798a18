//! Which folders belong to the library, and the searches that were saved: what the index cannot
//! tell from the files.

use std::{
    collections::BTreeMap,
    io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::folder::Home;
use crate::{
    marks::model::Unknown,
    store::{DocumentError, Format, Held, Readers},
};

const FILE: &str = "shelf.json";

static FORMAT: Format = Format {
    name: "stillcall library",
    version: 1,
    called: "list of the library's folders",
    unwritten: "Nothing was changed; free some space or check the folder",
    readers: Readers::User,
};

/// The library's folders and saved searches.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Shelf {
    /// Folders of clips, absolute, sorted.
    #[serde(default)]
    pub folders: Vec<PathBuf>,
    /// Saved searches by name.
    #[serde(default)]
    pub searches: BTreeMap<String, String>,
    /// Keys of later versions.
    #[serde(flatten)]
    unknown: Unknown,
    #[serde(skip)]
    held: Held,
}

/// Why the list of folders could not be read, written or changed.
#[derive(Debug, thiserror::Error)]
pub enum ShelfError {
    /// The list cannot be read or written.
    #[error(transparent)]
    File(#[from] DocumentError),
    /// The folder cannot be looked at.
    #[error("cannot use {path}: {source}. Check the name and that you may open it")]
    Unreachable {
        /// What was named.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The folder is none.
    #[error("{path} is not a folder. Name a folder that holds clips")]
    NotAFolder {
        /// What was named.
        path: PathBuf,
    },
    /// The folder lies in another one of the library, or holds one.
    #[error("{path} overlaps {other}, which belongs to the library already")]
    Overlaps {
        /// What was named.
        path: PathBuf,
        /// The folder that belongs.
        other: PathBuf,
    },
}

impl Shelf {
    /// Reads the list; an empty one where there is none yet.
    pub fn read(home: &Home) -> Result<Self, ShelfError> {
        let path = home.path().join(FILE);
        let Some((bytes, held)) = FORMAT.read_if_there(&path)? else { return Ok(Self::default()) };
        Ok(Self { held, ..FORMAT.parse(&bytes, &path)? })
    }

    /// Writes the list, unless another program changed it since it was read.
    pub fn write(&mut self, home: &Home) -> Result<(), ShelfError> {
        let path = home.file(FILE).map_err(|source| FORMAT.unwritable(home.path(), source))?;
        let text = FORMAT.text(self);
        Ok(FORMAT.write(&path, &text, &mut self.held)?)
    }

    /// Adds a folder; one that is there already changes nothing.
    pub fn add(&mut self, folder: &Path) -> Result<PathBuf, ShelfError> {
        let path = folder
            .canonicalize()
            .map_err(|source| ShelfError::Unreachable { path: folder.to_owned(), source })?;
        if !path.is_dir() {
            return Err(ShelfError::NotAFolder { path });
        }
        let overlaps = |other: &&PathBuf| path.starts_with(other) || other.starts_with(&path);
        match self.folders.iter().find(overlaps) {
            Some(same) if *same == path => {}
            Some(other) => return Err(ShelfError::Overlaps { path, other: other.clone() }),
            None => {
                self.folders.push(path.clone());
                self.folders.sort();
            }
        }
        Ok(path)
    }
}
