//! A rule book with what it is found by.

use std::path::Path;

use crate::{
    judged::JudgedError,
    marks::Routine,
    rulebook::{self, Book, Edition},
    window::screens::clip::session,
};

/// A rule book with what it is found by: its name, or the file it is in.
#[derive(Clone, Debug)]
pub(crate) struct Named {
    /// The name or the file.
    pub name: String,
    /// The book.
    pub book: Book,
    /// Whether it is an edition that was scored under, kept since the book was changed.
    pub(super) kept: bool,
}

impl Named {
    /// Finds a book by its name or file; says in words what is wrong with it.
    pub(crate) fn load(name: &str) -> Result<Self, String> {
        let book = rulebook::load(name).map_err(|error| error.to_string())?;
        Ok(Self { name: name.to_owned(), book, kept: false })
    }

    /// Finds the book of a routine in the edition that it was scored under, where that is kept.
    pub(super) fn scored(routine: &Routine, marks: &Path) -> Result<Self, JudgedError> {
        let ruled = session::ruled(routine, marks)?;
        let kept = matches!(ruled.edition, Edition::Kept { .. });
        Ok(Self { name: routine.book.clone(), book: Book::clone(&ruled.book), kept })
    }

    /// Returns the title, and the edition of a book that is not as it is now.
    pub(super) fn title(&self) -> String {
        let Book { title, edition, .. } = &self.book;
        if self.kept { format!("{title}, {edition} as scored") } else { title.clone() }
    }
}
