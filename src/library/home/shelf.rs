//! Which folders belong to the library, and the searches that were saved: what the index cannot
//! tell from the files.

use std::{
    collections::BTreeMap,
    fs, io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use crate::marks::{
    file::{Replace, replace_file},
    model::Unknown,
};

use super::folder::Home;

const FORMAT: &str = "stillcall library";
const VERSION: u64 = 1;

/// The library's folders and saved searches.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shelf {
    format: String,
    version: u64,
    /// Folders of clips, absolute, sorted.
    #[serde(default)]
    pub folders: Vec<PathBuf>,
    /// Saved searches by name.
    #[serde(default)]
    pub searches: BTreeMap<String, String>,
    /// Keys of later versions.
    #[serde(flatten)]
    unknown: Unknown,
}

/// Why the list of folders could not be read, written or changed.
#[derive(Debug, thiserror::Error)]
pub enum ShelfError {
    /// The system refused.
    #[error("cannot use {path}: {source}. Check the folder and the free space")]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// It is damaged, or of a later version.
    #[error("{path} is not readable: {detail}. It was left as it is; mend it or take it away")]
    Malformed {
        /// The file.
        path: PathBuf,
        /// What is wrong.
        detail: String,
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

impl Default for Shelf {
    fn default() -> Self {
        Self {
            format: FORMAT.to_owned(),
            version: VERSION,
            folders: Vec::new(),
            searches: BTreeMap::new(),
            unknown: Unknown::new(),
        }
    }
}

impl Shelf {
    /// Reads the list; an empty one where there is none yet.
    pub fn read(home: &Home) -> Result<Self, ShelfError> {
        let path = home.path().join("shelf.json");
        let bytes = match fs::read(&path) {
            Ok(bytes) => bytes,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Self::default()),
            Err(source) => return Err(ShelfError::Io { path, source }),
        };
        let shelf: Self = serde_json::from_slice(&bytes).map_err(|error| {
            ShelfError::Malformed { path: path.clone(), detail: error.to_string() }
        })?;
        if shelf.format != FORMAT || shelf.version != VERSION {
            let detail =
                format!("it is \"{}\" {}, not {FORMAT} {VERSION}", shelf.format, shelf.version);
            return Err(ShelfError::Malformed { path, detail });
        }
        Ok(shelf)
    }

    /// Writes the list.
    pub fn write(&self, home: &Home) -> Result<(), ShelfError> {
        let failed = |path: &Path, source| ShelfError::Io { path: path.to_owned(), source };
        let path = home.file("shelf.json").map_err(|source| failed(home.path(), source))?;
        let text = serde_json::to_string_pretty(self).unwrap_or_default() + "\n";
        replace_file(&path, text.as_bytes(), Replace::Allowed)
            .map_err(|source| failed(&path, source))
    }

    /// Adds a folder; one that is there already changes nothing.
    pub fn add(&mut self, folder: &Path) -> Result<PathBuf, ShelfError> {
        let path = folder
            .canonicalize()
            .map_err(|source| ShelfError::Io { path: folder.to_owned(), source })?;
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
