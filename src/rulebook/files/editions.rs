//! Every edition that was scored with, kept by its hash, so that a sheet reopens under it.

use std::{
    cell::Cell,
    io,
    path::{Path, PathBuf},
};

use crate::{
    rulebook::{Book, LoadError, read_like},
    store::{about_to_read, own_folder, read_text, replace_private},
};

use super::loader::load_with_texts;

/// The folder of this user in which the texts of editions are kept.
///
/// `<hash>.toml` is a book's own text, `<hash>.like1.toml` that of the book it is like, and so on.
#[derive(Clone, Debug, Default)]
pub struct Editions(Option<PathBuf>);

/// A book to score with, and which edition of it that is.
#[derive(Debug)]
pub struct Scored {
    /// The book.
    pub book: Book,
    /// Whether it is the edition that was asked for.
    pub edition: Edition,
    /// Why this edition could not be kept; nothing when it is kept.
    pub not_kept: Option<io::Error>,
}

/// Which edition of a book was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Edition {
    /// The book as it is now, which is also the one that was asked for.
    Current,
    /// The one that was asked for, from the kept texts.
    Kept {
        /// Edition of the book as it is now; nothing when it can no longer be read.
        now: Option<String>,
    },
    /// The book as it is now, because the text that was asked for is not kept on this computer.
    Missing {
        /// Hash that was asked for.
        asked: String,
    },
}

impl Editions {
    /// Returns the folder `editions` in `folder`; a user without a folder keeps none.
    pub fn in_folder(folder: Option<&Path>) -> Self {
        Self(folder.map(|folder| folder.join("editions")))
    }

    /// Returns the book of that name or file in the edition of that hash, which may be empty when
    /// nothing was scored before.
    ///
    /// The edition that is returned is kept, so that its hash finds it again.
    pub fn load(&self, name_or_path: &str, hash: &str) -> Result<Scored, LoadError> {
        let current = load_with_texts(name_or_path);
        let is_asked = |book: &Book| hash.is_empty() || book.hash == hash;
        if !current.as_ref().is_ok_and(|(book, _)| is_asked(book))
            && let Some(book) = self.kept(hash, name_or_path)
        {
            let now = current.ok().map(|(book, _)| book.edition);
            return Ok(Scored { book, edition: Edition::Kept { now }, not_kept: None });
        }
        let (book, texts) = current?;
        let edition = if is_asked(&book) {
            Edition::Current
        } else {
            Edition::Missing { asked: hash.to_owned() }
        };
        let not_kept = self.keep(&book.hash, &texts).err();
        Ok(Scored { book, edition, not_kept })
    }

    /// Returns the kept book of that hash; a text that was changed since is not it.
    fn kept(&self, hash: &str, name: &str) -> Option<Book> {
        let folder = self.0.as_ref()?;
        about_to_read(folder);
        let text = |number| read_text(&place(folder, hash, number)).ok();
        let asked = Cell::new(0);
        let next = |_: &str| {
            asked.set(asked.get() + 1);
            text(asked.get())
        };
        let (book, _) = read_like(&text(0)?, name, &next).ok()?;
        (book.hash == hash).then_some(book)
    }

    fn keep(&self, hash: &str, texts: &[String]) -> io::Result<()> {
        let Some(folder) = &self.0 else { return Ok(()) };
        about_to_read(folder);
        own_folder(folder)?;
        for (number, text) in texts.iter().enumerate() {
            let place = place(folder, hash, number);
            if read_text(&place).is_ok_and(|kept| kept == *text) {
                continue;
            }
            replace_private(&place, text.as_bytes())?;
        }
        Ok(())
    }
}

fn place(folder: &Path, hash: &str, number: usize) -> PathBuf {
    // A hash from a file that somebody typed must not lead out of the folder.
    let name: String = hash.chars().filter(char::is_ascii_alphanumeric).collect();
    match number {
        0 => folder.join(format!("{name}.toml")),
        _ => folder.join(format!("{name}.like{number}.toml")),
    }
}

impl Scored {
    /// Returns what is to be said about the edition; nothing when it is the one asked for and
    /// kept.
    pub fn said(&self) -> Option<String> {
        let Book { title, edition, .. } = &self.book;
        let said = match &self.edition {
            Edition::Current => None,
            Edition::Kept { now: Some(now) } if now == edition => Some(format!(
                "scored under the kept text of {title}, edition {edition}: the book was changed \
                 since"
            )),
            Edition::Kept { now: Some(now) } => Some(format!(
                "scored under the kept {title}, edition {edition}; the book is now edition {now}"
            )),
            Edition::Kept { now: None } => Some(format!(
                "scored under the kept {title}, edition {edition}; the book itself cannot be read"
            )),
            Edition::Missing { .. } => Some(format!(
                "the text that this was scored with before is not kept on this computer, so it is \
                 scored under {title}, edition {edition}, as it is now"
            )),
        };
        let unkept = self.not_kept.as_ref().map(|cause| {
            format!("{title}, edition {edition}, could not be kept for later: {cause}")
        });
        match (said, unkept) {
            (Some(said), Some(unkept)) => Some(format!("{said}; {unkept}")),
            (said, unkept) => said.or(unkept),
        }
    }
}
