//! Where a book is kept: opened whole, and never written over what somebody else wrote.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::Arc,
};

use super::loader::place_beside;
use crate::{
    rulebook::{
        edit::{Draft, Reading, RowAt, Shape, reading},
        shipped::shipped_text,
    },
    store::{Replacing, read_text, replace_file},
};

/// A book that was opened, or begun.
#[derive(Clone, Debug)]
pub(crate) struct OpenedBook {
    pub path: PathBuf,
    pub draft: Draft,
    /// Texts of the books that it is like, by how it calls them.
    bases: Arc<BTreeMap<String, String>>,
}

/// Opens a book, or begins one of the shape where no file is there. Slow: not for the window's thread.
pub(crate) fn open_draft(path: &Path, shape: &Shape) -> Result<OpenedBook, String> {
    let name = path.display();
    let text = match read_text(path) {
        Ok(text) => text,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
            let id = path.file_stem().unwrap_or_default().to_string_lossy();
            let text = shape.text(&id.replace(|c: char| !c.is_alphanumeric(), "-").to_lowercase());
            replace_file(path, text.as_bytes(), Replacing::Never)
                .map_err(|error| format!("{name} cannot be written: {error}."))?;
            text
        }
        Err(error) => return Err(format!("{name} cannot be read: {error}.")),
    };
    let draft = Draft::new(&text)
        .map_err(|why| format!("{name} is no book that a form could show: {why}"))?;
    let mut bases = BTreeMap::new();
    let mut texts = vec![text];
    // A ring of books that are like one another is told by the reading.
    while let Some(base) =
        texts.pop().as_deref().and_then(like).filter(|it| !bases.contains_key(it))
    {
        if let Ok(text) = read_text(&place_beside(&path.to_string_lossy(), &base)) {
            texts.push(text.clone());
            bases.insert(base, text);
        }
    }
    Ok(OpenedBook { path: path.to_owned(), draft, bases: Arc::new(bases) })
}

fn like(text: &str) -> Option<String> {
    let draft = Draft::new(text).ok()?;
    let like = draft.written(&RowAt::row("book", 0), "like");
    (!like.is_empty()).then_some(like)
}

impl OpenedBook {
    /// Returns what the text comes to.
    pub(crate) fn reading(&self) -> Reading {
        let find = |base: &str| {
            shipped_text(base).map(str::to_owned).or_else(|| self.bases.get(base).cloned())
        };
        reading(self.draft.text(), &self.path.to_string_lossy(), &find)
    }
}

/// Writes the text into a new file beside one that somebody else changed; says where.
fn beside(path: &Path, text: &str) -> String {
    let name = path.display();
    let copies = (1..1000).map(|number| path.with_extension(format!("{number}.toml")));
    let Some(copy) = copies.into_iter().find(|copy| !copy.exists()) else {
        return format!(
            "{name} was changed by something else, and there is no free name beside it."
        );
    };
    let copied = copy.display();
    match replace_file(&copy, text.as_bytes(), Replacing::Never) {
        Ok(()) => format!(
            "{name} was changed by something else. What you entered is in {copied}; open either to go on."
        ),
        Err(error) => format!(
            "{name} was changed by something else, and {copied} cannot be written: {error}."
        ),
    }
}

/// Writes the text, unless the file is no longer what was last read or written. Slow.
pub(crate) fn save_draft(path: &Path, was: &str, text: &str) -> Result<(), String> {
    let name = path.display();
    match read_text(path) {
        Ok(now) if now == was || now == text => {}
        Ok(_) => return Err(beside(path, text)),
        Err(error) => return Err(format!("{name} cannot be read any more: {error}.")),
    }
    replace_file(path, text.as_bytes(), Replacing::Allowed)
        .map_err(|error| format!("{name} cannot be written: {error}."))
}
