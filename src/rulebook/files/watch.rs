//! Whether the file of a rule book changed while it is in use.

use std::{
    cell::RefCell,
    path::{Path, PathBuf},
};

use crate::{
    rulebook::{Book, LoadError, load, read_like, shipped_text},
    store::{read_text, read_written},
};

use super::loader::{place_beside, text_of};

/// Notices when a book's file, or that of a book it is like, is written anew.
#[derive(Clone, Debug)]
pub struct Watch {
    name: String,
    files: Vec<PathBuf>,
    seen: blake3::Hash,
}

impl Watch {
    /// Begins with the files of that book as they are now; a shipped book never changes.
    pub fn begin(name_or_path: &str) -> Self {
        let files = files(name_or_path);
        let seen = look(&files);
        Self { name: name_or_path.to_owned(), files, seen }
    }

    /// Returns nothing while the files are as they were last time, else the new book, or all
    /// errors of its text at once.
    ///
    /// It is cheap enough to be asked every second. After an error the book in use stays as it
    /// is; the next writing of the file is looked at again.
    pub fn changed(&mut self) -> Option<Result<Book, LoadError>> {
        let seen = look(&self.files);
        if seen == self.seen {
            return None;
        }
        let read = load(&self.name);
        self.files = files(&self.name);
        self.seen = look(&self.files);
        Some(read)
    }
}

/// Returns the files that the book is made from, those that are not there included.
fn files(name: &str) -> Vec<PathBuf> {
    if shipped_text(name).is_some() {
        return Vec::new();
    }
    let files = RefCell::new(vec![PathBuf::from(name)]);
    let text = text_of(name).unwrap_or_default();
    // What is wrong with the book is of no interest here.
    let _ = read_like(&text, name, &|base| {
        if let Some(text) = shipped_text(base) {
            return Some(text.to_owned());
        }
        let place = place_beside(name, base);
        let text = read_text(&place).ok();
        files.borrow_mut().push(place);
        text
    });
    files.into_inner()
}

/// Returns one hash of what the files hold.
fn look(files: &[PathBuf]) -> blake3::Hash {
    let mut hasher = blake3::Hasher::new();
    for file in files {
        hasher.update(content(file).as_bytes());
    }
    hasher.finalize()
}

fn content(file: &Path) -> blake3::Hash {
    read_written(file).map_or_else(|_| blake3::hash(b"not there"), |bytes| blake3::hash(&bytes))
}
