//! Finding a rule book by name or path; the only file of this room that reads one.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use super::{Book, ReadBook, read_like, render, shipped, shipped_text};

/// Why a rule book could not be had.
#[derive(Debug, thiserror::Error)]
pub enum LoadError {
    /// Neither the name of a shipped book nor a file.
    #[error("no rule book \"{name}\": it is neither a file nor one of {known}")]
    Unknown {
        /// What was asked for.
        name: String,
        /// The shipped books.
        known: String,
    },
    /// The file is there but cannot be read.
    #[error("cannot read the rule book {path}: {cause}", path = path.display())]
    Unreadable {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// The file is not a rule book; `report` shows every error in its place.
    #[error("{name} has {count} errors:\n{report}")]
    Invalid {
        /// Name of the book or file.
        name: String,
        /// How many errors.
        count: usize,
        /// All errors with their lines.
        report: String,
    },
}

/// Returns the book of that name, or the one in that file.
pub fn load(name_or_path: &str) -> Result<Book, LoadError> {
    let text = match shipped_text(name_or_path) {
        Some(text) => text.to_owned(),
        None => read_text(name_or_path)?,
    };
    read_beside(&text, name_or_path).map(|(book, _)| book).map_err(|errors| LoadError::Invalid {
        name: name_or_path.to_owned(),
        count: errors.len(),
        report: render(&errors, &text, name_or_path),
    })
}

/// Returns the book of the text; one that it is like is shipped or a file beside `path`.
pub fn read_beside(text: &str, path: &str) -> ReadBook {
    let folder = Path::new(path).parent().unwrap_or(Path::new(""));
    read_like(text, path, &|base| match shipped_text(base) {
        Some(text) => Some(text.to_owned()),
        None => fs::read_to_string(folder.join(base)).ok(),
    })
}

fn read_text(path: &str) -> Result<String, LoadError> {
    let path = PathBuf::from(path);
    let bytes = fs::read(&path).map_err(|cause| match cause.kind() {
        io::ErrorKind::NotFound => {
            LoadError::Unknown { name: path.display().to_string(), known: shipped().join(", ") }
        }
        _ => LoadError::Unreadable { path: path.clone(), cause },
    })?;
    String::from_utf8(bytes).map_err(|error| LoadError::Unreadable {
        path,
        cause: io::Error::new(io::ErrorKind::InvalidData, error.utf8_error()),
    })
}
