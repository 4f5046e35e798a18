//! From a book's text to the model.

use super::{Book, Diagnostic};

/// Returns the book with its warnings, or every error of the text at once.
pub fn read(text: &str, name: &str) -> Result<(Book, Vec<Diagnostic>), Vec<Diagnostic>> {
    let _ = name;
    let hash = blake3::hash(text.as_bytes()).to_hex().to_string();
    Ok((Book { hash, ..Book::default() }, Vec::new()))
}
