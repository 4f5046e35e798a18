//! Marks as they are scored, and the sheet that they come to.

use std::path::{Path, PathBuf};

use super::{JudgedError, Judging, Ruled};
use crate::{
    marks::{self, Remeasured, Sheaf},
    sheet::{self, ScoreSheet, Skills},
    store::DocumentError,
};

/// Marks as they lie in a file and its journal, with every value as its clicks say now.
#[derive(Clone, Debug)]
pub struct Marked {
    /// The marks file.
    pub path: PathBuf,
    /// The marks.
    pub sheaf: Sheaf,
    /// What became of each reading, in the order of the file, with the value as it was stored.
    pub readings: Vec<Remeasured>,
    /// What is to be told of the journal.
    pub told: Option<String>,
}

/// Marks with the book they were scored under and the sheet they came to.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The marks.
    pub marked: Marked,
    /// The book.
    pub ruled: Ruled,
    /// The sheet.
    pub sheet: ScoreSheet,
}

impl Judging {
    /// Reads a marks file. What is scored is what the clicks say now, never what the file says of
    /// them.
    pub fn read(&self, path: &Path) -> Result<Marked, DocumentError> {
        let (mut sheaf, told) = marks::load_and_tell(path, self.state.as_ref())?;
        let readings = marks::renew(&mut sheaf);
        Ok(Marked { path: path.to_owned(), sheaf, readings, told })
    }

    /// Returns the book that marks are scored under.
    pub fn book_of(&mut self, marked: &Marked) -> Result<Ruled, JudgedError> {
        self.book(&marked.sheaf.routine, &marked.path)
    }

    /// Reads a marks file and scores it, without the athlete's own list: that changes no score.
    pub fn judge(&mut self, path: &Path) -> Result<Judged, JudgedError> {
        let marked = self.read(path)?;
        let ruled = self.book_of(&marked)?;
        Ok(marked.under(ruled, None))
    }
}

impl Marked {
    /// Returns whether somebody marked, read or called anything.
    pub fn is_watched(&self) -> bool {
        is_watched(&self.sheaf)
    }

    /// Returns the score sheet; what could be added comes from the athlete's own list.
    pub fn sheet(&self, ruled: &Ruled, list: Option<&Skills>) -> ScoreSheet {
        sheet::score_with(&ruled.book, &self.sheaf, list)
    }

    /// Returns the marks with the book and the sheet that they come to under it.
    pub fn under(self, ruled: Ruled, list: Option<&Skills>) -> Judged {
        let sheet = self.sheet(&ruled, list);
        Judged { marked: self, ruled, sheet }
    }

    /// Returns what is to be told of the journal, and of values that are others than when the marks
    /// were last shown.
    pub fn changes(&self) -> impl Iterator<Item = String> {
        let values = self.readings.iter().filter_map(|reading| {
            let (id, words) = (reading.id.0, reading.quantity.words());
            reading.change().map(|change| format!("reading {id}: {words} {change}"))
        });
        self.told.iter().cloned().chain(values)
    }
}

/// Returns whether somebody marked, read or called anything. A marks file may be begun for many
/// clips at once, before anybody looked at them; what it comes to says nothing of the routine.
pub fn is_watched(sheaf: &Sheaf) -> bool {
    !(sheaf.marks.is_empty() && sheaf.readings.is_empty() && sheaf.calls.is_empty())
}

impl Judged {
    /// Puts the planned routine beside the one that was shown.
    pub fn beside_plan(&mut self, plan: &Marked) {
        let Self { marked, ruled, sheet } = self;
        sheet.plan = Some(sheet::beside_plan(&ruled.book, &plan.sheaf, &marked.sheaf, sheet));
    }

    /// Returns what is to be told of the book's text, with the marks file.
    pub fn said(&self) -> Option<String> {
        self.ruled.said_of(&self.marked.path)
    }
}
