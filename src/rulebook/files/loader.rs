//! Finding a rule book by name or path.

use std::{
    cell::RefCell,
    io,
    path::{Path, PathBuf},
};

use crate::rulebook::shipped::{shipped, shipped_text};
use crate::{
    rulebook::{Book, ReadBook, counted_findings, read_like, render},
    store::{self, read_written},
};

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
    /// The file is not a text at all, or not one in UTF-8.
    #[error(
        "{path} is no text in UTF-8 from line {line} on{hint}: save it as plain text in UTF-8, or \
         name the TOML file of the rule book",
        path = path.display(),
    )]
    NotText {
        /// The file.
        path: PathBuf,
        /// Line of the first byte that is none of a text, counted from 1.
        line: usize,
        /// What it seems to be instead; empty where nothing tells.
        hint: &'static str,
    },
    /// The file is not a rule book; `report` shows every error in its place.
    #[error("{name} has {}:\n{report}", counted_findings(*count, "error"))]
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
    load_with_texts(name_or_path).map(|(book, _)| book)
}

/// Returns the book with the texts that it is made from: its own, then those of the books it is
/// like, in the order in which they are asked for.
pub(crate) fn load_with_texts(name_or_path: &str) -> Result<(Book, Vec<String>), LoadError> {
    let text = text_of(name_or_path)?;
    let bases = RefCell::new(Vec::new());
    let read = read_like(&text, name_or_path, &|base| {
        let found = text_beside(name_or_path, base);
        bases.borrow_mut().extend(found.clone());
        found
    });
    let (book, _) = read.map_err(|errors| LoadError::Invalid {
        name: name_or_path.to_owned(),
        count: errors.iter().filter(|one| one.is_error()).count(),
        report: render(&errors, &text, name_or_path),
    })?;
    Ok((book, [vec![text], bases.into_inner()].concat()))
}

/// Returns the book of the text; one that it is like is shipped or a file beside `path`.
pub fn read_beside(text: &str, path: &str) -> ReadBook {
    read_like(text, path, &|base| text_beside(path, base))
}

/// Returns the text of the book of that name, or of that file.
pub fn text_of(name_or_path: &str) -> Result<String, LoadError> {
    match shipped_text(name_or_path) {
        Some(text) => Ok(text.to_owned()),
        None => read_text(name_or_path),
    }
}

/// Returns the text of a book that the one at `path` is like: shipped, or a file beside it.
pub fn text_beside(path: &str, base: &str) -> Option<String> {
    if let Some(text) = shipped_text(base) {
        return Some(text.to_owned());
    }
    let place = place_beside(path, base);
    store::read_text(&place).ok()
}

/// Returns where the file of a book that `path` is like lies.
pub(crate) fn place_beside(path: &str, base: &str) -> PathBuf {
    Path::new(path).parent().unwrap_or(Path::new("")).join(base)
}

fn read_text(path: &str) -> Result<String, LoadError> {
    let path = PathBuf::from(path);
    let bytes = read_written(&path).map_err(|cause| match cause.kind() {
        io::ErrorKind::NotFound => {
            LoadError::Unknown { name: path.display().to_string(), known: shipped().join(", ") }
        }
        _ => LoadError::Unreadable { path: path.clone(), cause },
    })?;
    text_in(bytes).map_err(|(line, hint)| LoadError::NotText { path, line, hint })
}

/// Returns the text of a file, or the line where it stops being one and what it seems to be.
fn text_in(bytes: Vec<u8>) -> Result<String, (usize, &'static str)> {
    // No text holds a zero byte, though UTF-8 allows it: UTF-16 without its mark is full of them.
    let zero = bytes.iter().position(|byte| *byte == 0);
    let broken = std::str::from_utf8(&bytes).err().map(|error| error.valid_up_to());
    let hint = match bytes[..] {
        [0xff, 0xfe, ..] | [0xfe, 0xff, ..] => ", it seems to be UTF-16",
        [b'P', b'K', ..] => ", it seems to be a spreadsheet or a zip file",
        _ => "",
    };
    match [zero, broken].into_iter().flatten().min() {
        Some(at) => Err((bytes[..at].split(|byte| *byte == b'\n').count(), hint)),
        None => String::from_utf8(bytes).map_err(|_| (1, hint)),
    }
}
