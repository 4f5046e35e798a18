//! Reading a set file; the only file of this part that touches the disk.

use std::{
    io,
    path::{Path, PathBuf},
};

use super::{model::Set, read::read};
use crate::{
    rulebook::{self, Book, counted_findings, render},
    store::read_text,
};

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
    #[error("{path} has {}:\n{report}", counted_findings(*count, "error"))]
    Invalid {
        /// The file.
        path: PathBuf,
        /// How many errors.
        count: usize,
        /// All errors with their lines.
        report: String,
    },
}

/// Returns the set of the file with its rule book and its warnings as text.
pub fn load(path: &Path) -> Result<(Set, Book, String), SetError> {
    let unreadable = |source| SetError::Unreadable { path: path.to_owned(), source };
    let text = read_text(path).map_err(unreadable)?;
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
