//! The rule book that marks name, in the edition that they name.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
    sync::Arc,
};

use super::JudgedError;
use crate::{
    marks::{Routine, StateFolder},
    rulebook::{self, Book, Edition, Editions, LoadError, Scored},
    store::about_to_read,
};

/// A rule book to score with.
#[derive(Clone, Debug)]
pub struct Ruled {
    /// What it was found by: its name or its file.
    pub found_by: String,
    /// The book.
    pub book: Arc<Book>,
    /// Whether it is the edition that was asked for, and the book as it is now.
    pub edition: Edition,
    /// What is to be told of the edition; nothing when it is the one asked for.
    pub said: Option<String>,
}

/// What marks are scored with: their journals and the rule books that they name, each read once.
#[derive(Debug)]
pub struct Judging {
    /// Where the journals of marks are.
    pub(super) state: Option<StateFolder>,
    editions: Editions,
    /// The one book that everything is scored under, whatever the marks name.
    only: Option<Ruled>,
    /// Whether that is the book of the first marks, and none that a person named.
    is_of_first: bool,
    known: BTreeMap<Asked, Ruled>,
}

/// What a book is known by: its name, its hash and the folder of the marks that name it.
type Asked = (String, String, PathBuf);

impl Judging {
    /// Begins without books; journals and editions are looked for in the state folder.
    pub fn new(state: Option<&StateFolder>) -> Self {
        let editions = Editions::in_folder(state.map(StateFolder::path));
        let (state, only, known) = (state.cloned(), None, BTreeMap::new());
        Self { state, editions, only, is_of_first: false, known }
    }

    /// The same, with one book for all marks where one is named.
    pub fn under(named: Option<&str>, state: Option<&StateFolder>) -> Result<Self, JudgedError> {
        let mut judging = Self::new(state);
        if let Some(name) = named {
            let scored = judging.editions.load(name, "").map_err(JudgedError::Named)?;
            judging.only = Some(Ruled::new(name.to_owned(), scored));
        }
        Ok(judging)
    }

    /// Scores everything from here on under the book of the first marks, where none is named.
    pub fn keep_to(&mut self, first: &Ruled) {
        if self.only.is_none() {
            self.only = Some(Ruled { said: None, ..first.clone() });
            self.is_of_first = true;
        }
    }

    /// Returns the one book that everything is scored under, where there is one.
    pub const fn only(&self) -> Option<&Ruled> {
        self.only.as_ref()
    }

    /// Returns the book of a routine whose marks are `marks`: the one for all, or the one that the
    /// routine names in the edition that it names, also where that moved along with the marks.
    pub fn book(&mut self, routine: &Routine, marks: &Path) -> Result<Ruled, JudgedError> {
        let Routine { book: name, book_hash: hash, .. } = routine;
        if let Some(only) = &self.only {
            let is_other = self.is_of_first && !hash.is_empty() && *hash != only.book.hash;
            let said = is_other.then(|| {
                let title = only.title();
                format!("judged under another text of its rule book, and scored under {title}")
            });
            return Ok(Ruled { said: said.or_else(|| only.said.clone()), ..only.clone() });
        }
        if name.is_empty() {
            return Err(JudgedError::NoBook { marks: marks.to_owned() });
        }
        let folder = marks.parent().unwrap_or(Path::new(""));
        let asked = (name.clone(), hash.clone(), folder.to_owned());
        if let Some(known) = self.known.get(&asked) {
            return Ok(known.clone());
        }
        let ruled = self.find(name, hash, folder).map_err(|cause| JudgedError::Book {
            marks: marks.to_owned(),
            name: name.clone(),
            cause,
        })?;
        self.known.insert(asked, ruled.clone());
        Ok(ruled)
    }

    /// Looks in every place where the book may lie, and takes the edition asked for before another
    /// and a book that is still there before one of which only the text was kept.
    fn find(&self, name: &str, hash: &str, folder: &Path) -> Result<Ruled, LoadError> {
        let load = |place: &str| {
            let scored = self.editions.load(place, hash)?;
            Ok(Ruled::new(place.to_owned(), scored))
        };
        let (first, others) = places(name, folder);
        others.iter().fold(load(&first), |best, place| {
            let other = load(place);
            if rank(&other) < rank(&best) { other } else { best }
        })
    }
}

impl Ruled {
    fn new(found_by: String, scored: Scored) -> Self {
        let said = scored.said();
        Self { found_by, book: Arc::new(scored.book), edition: scored.edition, said }
    }

    /// Returns what is to be told of the book where it is not as it is now, or not the text that
    /// these marks name.
    pub fn said_of(&self, marks: &Path) -> Option<String> {
        let said = self.said.as_ref()?;
        Some(format!("{}: {said}", marks.display()))
    }

    /// Returns title and edition.
    pub fn title(&self) -> String {
        format!("{}, edition {}", self.book.title, self.book.edition)
    }
}

/// Returns where a book may lie that marks in `folder` name. A name that leads nowhere from
/// everywhere is one within the folder of the marks first, as with a set and its book.
fn places(name: &str, folder: &Path) -> (String, Vec<String>) {
    let named = Path::new(name);
    if rulebook::shipped_text(name).is_some() {
        return (name.to_owned(), Vec::new());
    }
    let moved = named.file_name().map(|file| folder.join(file));
    let by_id = folder.join(format!("{name}.toml"));
    about_to_read(folder);
    let beside = [Some(folder.join(name)), moved, Some(by_id)];
    let beside = beside.into_iter().flatten().filter(|path| path.is_file());
    let mut places: Vec<String> = beside.map(|path| path.to_string_lossy().into_owned()).collect();
    let at = if named.is_absolute() { 0 } else { places.len() };
    places.insert(at, name.to_owned());
    let first = places.remove(0);
    (first, places)
}

/// Returns how far what was found is from what was asked for.
const fn rank(found: &Result<Ruled, LoadError>) -> u8 {
    match found {
        Ok(Ruled { edition: Edition::Current, .. }) => 0,
        Ok(Ruled { edition: Edition::Kept { now: Some(_) }, .. }) => 1,
        Ok(Ruled { edition: Edition::Kept { now: None }, .. }) => 2,
        Ok(Ruled { edition: Edition::Missing { .. }, .. }) => 3,
        // That a file is wrong says more than that there is none in another place.
        Err(LoadError::Unknown { .. }) => 5,
        Err(_) => 4,
    }
}
