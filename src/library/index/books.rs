use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::Arc,
};

use crate::{
    marks::{Routine, StateFolder},
    rulebook::{Book, Editions},
};

/// Rule books by what marks files call them, each read once.
#[derive(Debug, Default)]
pub struct Books {
    editions: Editions,
    known: BTreeMap<(String, String, PathBuf), Option<Arc<Book>>>,
}

impl Books {
    /// Returns no books yet; editions are looked for in the state folder.
    pub fn new(state: Option<&StateFolder>) -> Self {
        let editions = Editions::in_folder(state.map(StateFolder::path));
        Self { editions, known: BTreeMap::new() }
    }

    /// Returns the book that a routine was judged under: the shipped one, the kept edition, or a
    /// file of that name beside the marks.
    pub fn of(&mut self, routine: &Routine, folder: &Path) -> Option<Arc<Book>> {
        let key = (routine.book.clone(), routine.book_hash.clone(), folder.to_owned());
        if let Some(known) = self.known.get(&key) {
            return known.clone();
        }
        let beside = folder.join(format!("{}.toml", routine.book)).display().to_string();
        let found = [routine.book.as_str(), beside.as_str()]
            .into_iter()
            .filter(|name| !name.is_empty())
            .find_map(|name| self.load(name, &routine.book_hash))
            .map(Arc::new);
        self.known.insert(key, found.clone());
        found
    }

    fn load(&self, name: &str, hash: &str) -> Option<Book> {
        self.editions.load(name, hash).ok().map(|scored| scored.book)
    }
}
