//! Reading a set file, and looking whether its clips are there; the only file of this part that
//! touches the disk.

use std::{
    fs::{self, File},
    io,
    path::{Path, PathBuf},
};

use super::{
    model::{Look, Set},
    read::read,
};
use crate::rulebook::{self, Book, render};

/// Why a set could not be had.
#[derive(Debug, thiserror::Error)]
pub enum SetError {
    /// The file is not there or may not be read.
    #[error("cannot read the set {path}: {source}. Check the name and that you may open it")]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// The file is no set; `report` shows every error in its place.
    #[error("{path} has {count} errors:\n{report}")]
    Invalid {
        /// The file.
        path: PathBuf,
        /// How many errors.
        count: usize,
        /// All errors with their lines.
        report: String,
    },
}

/// Whether a look's clip can be shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClipState {
    /// It is there, and the same as when the set was made.
    There(PathBuf),
    /// It is not there.
    Missing(PathBuf),
    /// It is there with other bytes.
    Changed(PathBuf),
}

impl ClipState {
    /// Returns in words why the clip cannot be shown; nothing when it can.
    pub fn trouble(&self) -> Option<String> {
        match self {
            Self::There(_) => None,
            Self::Missing(path) => Some(format!("The clip {} is not there", path.display())),
            Self::Changed(path) => {
                let path = path.display();
                Some(format!("The clip {path} is not the one that the set was made with"))
            }
        }
    }
}

/// Returns the set of the file with its rule book and its warnings as text.
pub fn load(path: &Path) -> Result<(Set, Book, String), SetError> {
    let unreadable = |source| SetError::Unreadable { path: path.to_owned(), source };
    let text = fs::read_to_string(path).map_err(unreadable)?;
    let name = path.display().to_string();
    let find = |named: &str| book_beside(path, named);
    match read(&text, &find) {
        Ok((set, warnings)) => {
            let book = find(&set.book).map_err(|why| unreadable(io::Error::other(why)))?;
            Ok((set, book, render(&warnings, &text, &name)))
        }
        Err(errors) => Err(SetError::Invalid {
            path: path.to_owned(),
            count: errors.len(),
            report: render(&errors, &text, &name),
        }),
    }
}

/// Returns whether the look's clip is there and unchanged.
pub fn clip_state(set_file: &Path, look: &Look) -> ClipState {
    let path = set_file.with_file_name("").join(&look.clip);
    let Ok(mut file) = File::open(&path) else { return ClipState::Missing(path) };
    if look.clip_hash.is_empty() {
        return ClipState::There(path);
    }
    let mut hasher = blake3::Hasher::new();
    match hasher.update_reader(&mut file) {
        Ok(hasher) if hasher.finalize().to_hex().as_str() == look.clip_hash => {
            ClipState::There(path)
        }
        Ok(_) => ClipState::Changed(path),
        Err(_) => ClipState::Missing(path),
    }
}

/// Returns the rule book of that name, or of the file beside the set.
fn book_beside(set_file: &Path, named: &str) -> Result<Book, String> {
    let beside = set_file.with_file_name("").join(named);
    let found = if rulebook::shipped_text(named).is_none() && beside.is_file() {
        rulebook::load(&beside.to_string_lossy())
    } else {
        rulebook::load(named)
    };
    found.map_err(|error| error.to_string())
}
