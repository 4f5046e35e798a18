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

/// The books that a form offers.
pub(crate) struct Books {
    pub(super) named: Vec<Named>,
    /// What is wrong with the one that the routine names.
    pub(super) complaint: Option<String>,
}

impl Books {
    /// Reads those that are shipped, and that of the routine. Slow: not for the thread of the
    /// window.
    pub(crate) fn read(routine: &Routine, marks: &Path) -> Self {
        let (mut books, mut complaint) = (Vec::new(), None);
        let own = (!rulebook::shipped().contains(&routine.book.as_str())).then_some(&*routine.book);
        for name in rulebook::shipped().into_iter().chain(own) {
            match Named::load(name) {
                Ok(book) => books.push(book),
                Err(error) => complaint = Some(error),
            }
        }
        // A routine goes on under the edition that it was scored with until another is chosen.
        if let Ok(scored) = Named::scored(routine, marks)
            && books.iter().all(|named| named.book.hash != scored.book.hash)
        {
            if !scored.kept {
                // It moved along with the marks.
                complaint = None;
            }
            books.push(scored);
        }
        Self { named: books, complaint }
    }
}

impl Named {
    /// Finds a book by its name or file; says in words what is wrong with it.
    pub(crate) fn load(name: &str) -> Result<Self, String> {
        let book = rulebook::load(name).map_err(|error| error.to_string())?;
        Ok(Self { name: name.to_owned(), book, kept: false })
    }

    /// Reads a book of one's own.
    pub(crate) fn read(path: &Path) -> Result<Box<Self>, String> {
        // Marks are opened from other folders too.
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
        Self::load(&path.to_string_lossy()).map(Box::new)
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
