//! The marks being written, with their book, their sheet and their paper.
//!
//! A step is on the paper at once, with the settlements of the sheet before it; its own sheet is
//! made beside the thread of the window.

mod aside;
mod asking;
mod book;
mod follow;
mod scorer;

use std::{
    fs,
    path::{Path, PathBuf},
    sync::Arc,
};

use crate::{
    judged::{JudgedError, Ruled, is_watched},
    marks::{
        Aside, Desk, DeskError, Edit, Id, KeptAside, Routine, Saved, Saving, Sheaf, StateFolder,
        Step, Version, What,
    },
    rulebook::{self, Book, Edition},
    sheet::{self, ScoreSheet, Skills},
    units::{Orientation, capitalised},
    window::{
        paper::Paper,
        viewer::arrived::Arrived,
        words::{self, sentence},
        write::Vocabulary,
    },
};

pub(crate) use book::event_and_division;
use follow::list_of;
pub(crate) use follow::{FoundAnew, ToRead, ruled};
use scorer::Scorer;

/// Why marks or their book could not be opened.
#[derive(Debug, thiserror::Error)]
pub(crate) enum SessionError {
    /// The marks.
    #[error(transparent)]
    Desk(#[from] DeskError),
    /// The book that the marks name.
    #[error(transparent)]
    Judged(#[from] JudgedError),
    /// There is no folder for the journal.
    #[error("no home folder: set STILLCALL_STATE to a folder in which changes can be kept")]
    NoStateFolder,
}

impl SessionError {
    /// Returns whether the marks could not be written where they should lie.
    pub(crate) fn is_unwritable(&self) -> bool {
        matches!(self, Self::Desk(DeskError::File(crate::store::DocumentError::Unwritable { .. })))
    }
}

/// What is written of one routine; empty until the header is filled in.
pub(crate) struct Session {
    open: Option<Open>,
    paper: Paper,
    scorer: Scorer,
    /// Tells the window that a sheet has come.
    arrived: Arrived,
    /// File to which the sheet on screen is written as JSON, for tests of the whole program.
    shown: Option<PathBuf>,
}

struct Open {
    desk: Desk,
    ruled: Ruled,
    /// Name and hash by which that was asked for.
    asked: [String; 2],
    /// The athlete's own list, and whose was asked for.
    list: Option<Arc<Skills>>,
    listed: String,
    /// What is to be said of book and list, until it is said.
    said: Option<String>,
    words: Vocabulary,
    /// Event and division whose words those are.
    worded: [String; 2],
    sheet: ScoreSheet,
    /// Whether book or list are to be read, because the routine names others now.
    is_behind: bool,
    /// What was found that was set aside, and the same held against the marks as they stand.
    kept: Vec<KeptAside>,
    asides: Vec<Aside>,
    /// Whether more may have been set aside since.
    looks_again: bool,
    /// Whether what is to be said tells of something that was set aside.
    tells_of_asides: bool,
}

impl Open {
    fn new(desk: Desk) -> Result<Self, SessionError> {
        let routine = &desk.sheaf().routine;
        let ruled = ruled(routine, desk.path())?;
        let (list, complaint) = list_of(routine, desk.path());
        let told = (!desk.told().is_empty()).then(|| desk.told().join("\n"));
        let tells_of_asides = told.is_some();
        let book = ruled.said.as_deref().map(capitalised);
        let said = joined([told, book, complaint.as_deref().map(sentence)]);
        let (asked, listed) = (asked(routine), routine.athlete.clone());
        let sheet = sheet::score_with(&ruled.book, desk.sheaf(), list.as_deref());
        let (words, worded) = (Vocabulary::default(), <[String; 2]>::default());
        let state = StateFolder::of_user();
        let kept = state.map(|state| desk.aside_search().look(&state)).unwrap_or_default();
        let (is_behind, asides, looks_again) = (false, Vec::new(), false);
        let mut open = Self {
            desk,
            ruled,
            asked,
            list,
            listed,
            said,
            words,
            worded,
            sheet,
            is_behind,
            kept,
            asides,
            looks_again,
            tells_of_asides,
        };
        open.hold_against();
        open.follow_words();
        Ok(open)
    }

    /// Returns what is to be read before book and list are in step with the routine.
    fn to_read(&self) -> ToRead {
        let routine = self.desk.sheaf().routine.clone();
        let (book, list) = (asked(&routine) != self.asked, routine.athlete != self.listed);
        ToRead { routine, marks: self.desk.path().to_owned(), book, list }
    }

    /// Brings book, list and words in step with what the routine was when they were read.
    fn follow(&mut self, found: FoundAnew) {
        let FoundAnew { routine, ruled, list } = found;
        if let Some(ruled) = ruled {
            self.said = ruled.said.as_deref().map(capitalised);
            (self.ruled, self.asked) = (ruled, asked(&routine));
            self.worded = <[String; 2]>::default();
        }
        if let Some((list, complaint)) = list {
            (self.list, self.listed) = (list, routine.athlete);
            self.said = joined([self.said.take(), complaint.as_deref().map(sentence)]);
        }
        self.follow_words();
    }

    /// Holds what was set aside against the marks as they stand.
    fn hold_against(&mut self) {
        self.asides = self.kept.iter().map(|kept| self.desk.against(kept)).collect();
    }

    fn follow_words(&mut self) {
        let Routine { event, division, .. } = &self.desk.sheaf().routine;
        if self.worded.each_ref() != [event, division] {
            self.words = Vocabulary::of(&self.ruled.book, event, division);
            self.worded = [event.clone(), division.clone()];
        }
    }
}

impl Session {
    /// Returns a session without marks, which writes the sheet it shows to `shown`; `arrived` is
    /// given whenever a new sheet has come.
    pub(crate) fn empty(shown: Option<PathBuf>, arrived: Arrived) -> Self {
        let (open, paper, scorer) = (None, Paper::default(), Scorer::new(arrived.clone()));
        Self { open, paper, scorer, arrived, shown }
    }

    /// Opens a marks file and the book that it names. Slow: not for the thread of the window.
    pub(crate) fn open(
        path: &Path,
        shown: Option<PathBuf>,
        arrived: Arrived,
    ) -> Result<Self, SessionError> {
        Beginning { shown, arrived }.open(path)
    }

    /// Returns what it takes to begin a session in the place of this one.
    pub(crate) fn beginning(&self) -> Beginning {
        Beginning { shown: self.shown.clone(), arrived: self.arrived.clone() }
    }

    /// Lets go of the marks and of the lock on their journal; what was not saved stays in that.
    pub(crate) fn let_go(&mut self) {
        self.open = None;
    }

    fn set_out(&mut self, desk: Desk) -> Result<(), SessionError> {
        self.open = Some(Open::new(desk)?);
        self.scorer.forget();
        self.write_out();
        self.tell_shown();
        Ok(())
    }

    /// Takes one step; returns whether there was anything to do.
    pub(crate) fn take(&mut self, step: Step) -> Result<bool, SessionError> {
        let Some(open) = &mut self.open else { return Ok(false) };
        let taken = open.desk.take(step)?;
        if taken {
            self.follow_step();
        }
        Ok(taken)
    }

    /// Joins another version of the marks, which somebody wrote into their file.
    pub(crate) fn join(&mut self, theirs: &Version) -> Result<(), DeskError> {
        let Some(open) = &mut self.open else { return Ok(()) };
        let known = open.desk.told().len();
        open.desk.join(theirs)?;
        open.looks_again = true;
        open.tells_of_asides |= open.desk.told().len() > known;
        let told = open.desk.told()[known..].join("\n");
        open.said = joined([open.said.take(), (!told.is_empty()).then_some(told)]);
        self.follow_step();
        Ok(())
    }

    fn follow_step(&mut self) {
        let Some(open) = &mut self.open else { return };
        open.hold_against();
        let ToRead { book, list, .. } = open.to_read();
        open.is_behind = book || list;
        if open.is_behind {
            self.write_out();
        } else {
            self.score_anew();
        }
    }

    fn score_anew(&mut self) {
        let Some(open) = &mut self.open else { return };
        open.follow_words();
        self.scorer.wish((&open.ruled.book, open.list.as_ref()), open.desk.sheaf());
        self.write_out();
    }

    /// Returns, once after each step, what is to be read because the routine names another book or
    /// athlete now.
    pub(crate) fn take_to_read(&mut self) -> Option<ToRead> {
        let open = self.open.as_mut()?;
        std::mem::take(&mut open.is_behind).then(|| open.to_read())
    }

    /// Goes on under what was read.
    pub(crate) fn follow(&mut self, found: FoundAnew) {
        if let Some(open) = &mut self.open {
            open.follow(found);
            self.score_anew();
        }
    }

    /// Changes what the routine is.
    pub(crate) fn change_routine(&mut self, routine: Routine) -> Result<bool, SessionError> {
        match self.sheaf() {
            Some(sheaf) if sheaf.routine != routine => {
                let edit = Edit::routine(sheaf, routine);
                self.take(Step::Do(edit))
            }
            _ => Ok(false),
        }
    }

    /// Writes the marks onto the paper with the sheet at hand.
    fn write_out(&mut self) {
        let Some(open) = &self.open else { return };
        self.paper = book::paper(&open.ruled.book, open.desk.sheaf(), &open.sheet);
    }

    /// Takes in the sheet of the last step, where it has come.
    pub(crate) fn collect(&mut self) {
        let come = self.scorer.take();
        self.show(come);
    }

    /// Waits for the sheet of the last step: for what must be answered by it.
    pub(crate) fn catch_up(&mut self) {
        let come = self.scorer.wait();
        self.show(come);
    }

    fn show(&mut self, scored: Option<scorer::Scored>) {
        if let (Some(open), Some(scored)) = (&mut self.open, scored) {
            (open.sheet, self.paper) = (scored.sheet, scored.paper);
            self.tell_shown();
        }
    }

    fn tell_shown(&self) {
        if let (Some(path), Some(sheet)) = (&self.shown, self.sheet()) {
            // For tests only; what goes wrong here shows there.
            let _ = fs::write(path, sheet.to_json().to_string());
        }
    }

    /// Returns whether the sheet on screen lags behind the marks.
    pub(crate) const fn is_scoring(&self) -> bool {
        self.scorer.is_waiting()
    }

    /// Returns whether a routine is being written.
    pub(crate) fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Returns the marks.
    pub(crate) fn sheaf(&self) -> Option<&Sheaf> {
        self.open.as_ref().map(|open| open.desk.sheaf())
    }

    /// Returns where the marks lie.
    pub(crate) fn path(&self) -> Option<&Path> {
        self.open.as_ref().map(|open| open.desk.path())
    }

    /// Returns the rule book.
    pub(crate) fn book(&self) -> Option<&Book> {
        self.open.as_ref().map(|open| &*open.ruled.book)
    }

    /// Returns what the rule book is found by, where it is a file that may be written anew.
    ///
    /// Marks that are shown under the kept text of their edition stay under it until another is
    /// chosen in the header, whatever becomes of the file.
    pub(crate) fn book_file(&self) -> Option<&str> {
        let open = self.open.as_ref()?;
        let named = open.ruled.found_by.as_str();
        let is_current = open.ruled.edition == Edition::Current;
        let follows = is_current && !rulebook::shipped().contains(&named);
        follows.then_some(named)
    }

    /// Goes on under a book that was written anew: a change like any other, which can be undone.
    pub(crate) fn take_book(&mut self, book: &Book) -> Result<bool, SessionError> {
        let Some(routine) = self.sheaf().map(|sheaf| sheaf.routine.clone()) else {
            return Ok(false);
        };
        let (edition, book_hash) = (book.edition.clone(), book.hash.clone());
        self.change_routine(Routine { edition, book_hash, ..routine })
    }

    /// Returns, once, what a judge should know of the edition that is scored under.
    pub(crate) fn say_edition(&mut self) -> Option<String> {
        self.open.as_mut()?.said.take()
    }

    /// Returns what something seen is called in the book's words.
    pub(crate) fn name(&self, what: &What) -> String {
        let open = self.open.as_ref();
        open.map_or_else(
            || words::moment(what),
            |open| book::name(&open.ruled.book, &open.desk.sheaf().routine, what),
        )
    }

    /// Returns the words of the book for the routine's event and division.
    pub(crate) fn words(&self) -> Option<&Vocabulary> {
        self.open.as_ref().map(|open| &open.words)
    }

    pub(crate) fn sheet(&self) -> Option<&ScoreSheet> {
        self.open.as_ref().map(|open| &open.sheet)
    }

    pub(crate) fn paper(&self) -> &Paper {
        &self.paper
    }

    /// Returns how a person turned the picture otherwise than its file says.
    pub(crate) fn turn(&self) -> Option<Orientation> {
        self.sheaf()?.clip.as_ref()?.orientation_override
    }

    /// Returns what is judged in words: event and division, then whose and when.
    pub(crate) fn routine_in_words(&self) -> (String, String) {
        let Some(open) = &self.open else {
            return (
                "No routine yet".to_owned(),
                "Event, division and judge are asked for when \
                    you write."
                    .to_owned(),
            );
        };
        let routine = &open.desk.sheaf().routine;
        let [event, division] = event_and_division(Some(&open.ruled.book), routine);
        let aside = [&routine.athlete, &routine.judge, &routine.date, &open.ruled.book.title];
        let aside: Vec<&str> =
            aside.into_iter().filter(|part| !part.is_empty()).map(String::as_str).collect();
        (format!("{event}, {division}"), aside.join(" · "))
    }

    /// Returns the score as the title says it: the range while a call leaves it open.
    pub(crate) fn score_in_words(&self) -> Option<String> {
        self.sheet().filter(|_| self.is_marked()).map(ScoreSheet::range_words)
    }

    /// Returns whether anything is marked, read or called.
    pub(crate) fn is_marked(&self) -> bool {
        self.sheaf().is_some_and(is_watched)
    }

    /// Returns an id that was never used.
    pub(crate) fn fresh_id(&mut self) -> Option<Id> {
        self.open.as_mut().map(|open| open.desk.fresh_id())
    }

    /// Returns whether the file lags behind the marks.
    pub(crate) fn is_dirty(&self) -> bool {
        self.open.as_ref().is_some_and(|open| open.desk.is_dirty())
    }

    /// Returns a save to be carried out on another thread, where there is anything to write.
    pub(crate) fn begin_save(&self) -> Option<Saving> {
        self.open.as_ref().filter(|open| open.desk.is_dirty()).map(|open| open.desk.begin_save())
    }

    /// Takes note of a save that was carried out.
    pub(crate) fn finish_save(&mut self, saved: Saved) {
        if let Some(open) = &mut self.open {
            open.desk.finish_save(saved);
        }
    }
}

/// What it takes to begin a session beside the thread of the window.
pub(crate) struct Beginning {
    shown: Option<PathBuf>,
    arrived: Arrived,
}

impl Beginning {
    /// Opens a marks file and the book that it names.
    pub(crate) fn open(self, path: &Path) -> Result<Session, SessionError> {
        self.at(Desk::open(path, &state_folder()?)?)
    }

    /// Begins the marks of a routine with a new file.
    pub(crate) fn begin(self, path: &Path, sheaf: Sheaf) -> Result<Session, SessionError> {
        // The book first: a file must not be left behind when it cannot be read.
        ruled(&sheaf.routine, path)?;
        self.at(Desk::create(path, sheaf, &state_folder()?)?)
    }

    fn at(self, desk: Desk) -> Result<Session, SessionError> {
        let mut session = Session::empty(self.shown, self.arrived);
        session.set_out(desk)?;
        Ok(session)
    }
}

fn joined<const N: usize>(said: [Option<String>; N]) -> Option<String> {
    let said: Vec<String> = said.into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join(". "))
}

fn asked(routine: &Routine) -> [String; 2] {
    [routine.book.clone(), routine.book_hash.clone()]
}

fn state_folder() -> Result<StateFolder, SessionError> {
    StateFolder::of_user().ok_or(SessionError::NoStateFolder)
}
