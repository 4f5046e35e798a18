//! The book that marks name, in the edition that they were scored under.

use std::path::Path;

use crate::{
    marks::{Routine, Sheaf, What},
    rulebook::{self, Book, LoadError, Scored},
    sheet::ScoreSheet,
    window::{
        paper::{Names, Paper},
        words,
    },
};

/// Which book marks ask for.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Wanted {
    /// What it is found by: its name or its file.
    pub name: String,
    /// Hash of the edition that was scored with; empty before anything was.
    hash: String,
}

impl Wanted {
    /// Returns which book a routine asks for.
    pub(crate) fn of(routine: &Routine) -> Self {
        Self { name: routine.book.clone(), hash: routine.book_hash.clone() }
    }

    /// Finds it where it is kept. A book of one's own may have moved along with the marks.
    pub(crate) fn load(&self, marks: &Path) -> Result<Scored, LoadError> {
        rulebook::load_scored(&self.name, &self.hash).or_else(|error| {
            let beside = Path::new(&self.name).file_name().map(|name| marks.with_file_name(name));
            let beside = beside.filter(|path| path.is_file()).ok_or(error)?;
            rulebook::load_scored(&beside.to_string_lossy(), &self.hash)
        })
    }
}

/// Returns what a mark is called in the book's words.
pub(crate) fn name(book: &Book, routine: &Routine, what: &What) -> String {
    let known = match what {
        What::Element { element } => {
            book.element(&routine.event, element).map(|element| element.name.clone())
        }
        What::Fault { fault, .. } => {
            book.faults.iter().find(|known| known.id == *fault).map(|fault| fault.label.clone())
        }
        _ => None,
    };
    known.unwrap_or_else(|| words::moment(what))
}

/// Returns the paper of these marks in the book's words.
pub(crate) fn paper(book: &Book, sheaf: &Sheaf, sheet: &ScoreSheet) -> Paper {
    let mark = |what: &What| name(book, &sheaf.routine, what);
    let class = |id: &str| book.class(id).map_or(id, |class| &class.name).to_owned();
    Paper::of(sheaf, sheet, Names { mark: &mark, class: &class })
}

/// Returns a routine's event and division by name, as far as the book knows them; else their ids.
pub(crate) fn event_and_division(book: Option<&Book>, routine: &Routine) -> [String; 2] {
    let event = book.and_then(|book| book.event(&routine.event)).map(|event| &event.name);
    let division = book.and_then(|book| book.division(&routine.division)).map(|it| &it.name);
    [event.unwrap_or(&routine.event).clone(), division.unwrap_or(&routine.division).clone()]
}
