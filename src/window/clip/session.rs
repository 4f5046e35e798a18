//! The marks being written, with their book, their sheet and their paper kept in step.

use std::{
    fs,
    path::{Path, PathBuf},
};

use crate::{
    marks::{
        At, Desk, DeskError, Edit, FileError, Id, Item, LandingOn, Mark, Phase, Quantity, Routine,
        Saved, Saving, Sheaf, StateFolder, Step, What,
    },
    rulebook::{self, Angle, Book, Edition, LoadError, Scored},
    sheet::{self, ScoreSheet},
    units::{FrameRef, Orientation, Points},
    window::{
        paper::Paper,
        points::Rule,
        words,
        write::{Asked, Vocabulary},
    },
};

/// Why marks or their book could not be opened.
#[derive(Debug, thiserror::Error)]
pub enum SessionError {
    /// The marks.
    #[error(transparent)]
    Desk(#[from] DeskError),
    /// The book that the marks name.
    #[error(transparent)]
    Book(#[from] LoadError),
    /// There is no folder for the journal.
    #[error("no home folder: set STILLCALL_STATE to a folder in which changes can be kept")]
    NoStateFolder,
}

impl SessionError {
    /// Returns whether the marks could not be written where they should lie.
    pub fn is_unwritable(&self) -> bool {
        matches!(self, Self::Desk(DeskError::File(FileError::Unwritable { .. })))
    }
}

/// What is written of one routine; empty until the header is filled in.
#[derive(Default)]
pub struct Session {
    open: Option<Open>,
    paper: Paper,
    /// File to which the sheet on screen is written as JSON, for tests of the whole program.
    shown: Option<PathBuf>,
}

struct Open {
    desk: Desk,
    /// What was asked for when the book was loaded.
    wanted: Wanted,
    book: Book,
    /// Which text of the book that is.
    edition: Edition,
    /// What is to be said of the book's edition, until it is said.
    said: Option<String>,
    words: Vocabulary,
    sheet: ScoreSheet,
}

/// Which book marks ask for.
#[derive(Clone, PartialEq, Eq)]
struct Wanted {
    /// What it is found by: its name or its file.
    name: String,
    /// Hash of the edition that was scored with; empty before anything was.
    hash: String,
}

impl Wanted {
    fn of(routine: &Routine) -> Self {
        Self { name: routine.book.clone(), hash: routine.book_hash.clone() }
    }
}

impl Session {
    /// Returns a session without marks, which writes the sheet it shows to `shown`.
    pub fn empty(shown: Option<PathBuf>) -> Self {
        Self { shown, ..Self::default() }
    }

    /// Opens a marks file and the book that it names.
    pub fn open(path: &Path, shown: Option<PathBuf>) -> Result<Self, SessionError> {
        let desk = Desk::open(path, &state_folder()?)?;
        let mut session = Self::empty(shown);
        session.set_out(desk)?;
        Ok(session)
    }

    /// Begins the marks of a routine with a new file.
    pub fn begin(&mut self, path: &Path, sheaf: Sheaf) -> Result<(), SessionError> {
        // The book first: a file must not be left behind when it cannot be read.
        rulebook::load(&sheaf.routine.book)?;
        let desk = Desk::create(path, sheaf, &state_folder()?)?;
        self.set_out(desk)
    }

    fn set_out(&mut self, desk: Desk) -> Result<(), SessionError> {
        let wanted = Wanted::of(&desk.sheaf().routine);
        let scored = load_scored(&wanted, desk.path())?;
        let said = scored.said();
        let Scored { book, edition, .. } = scored;
        let sheet = sheet::score(&book, desk.sheaf());
        let words = Vocabulary::default();
        self.open = Some(Open { desk, wanted, book, edition, said, words, sheet });
        self.follow();
        Ok(())
    }

    /// Takes one step and scores what came of it; returns whether there was anything to do.
    pub fn take(&mut self, step: Step) -> Result<bool, SessionError> {
        let Some(open) = &mut self.open else { return Ok(false) };
        let taken = open.desk.take(step)?;
        if taken {
            let wanted = Wanted::of(&open.desk.sheaf().routine);
            if wanted != open.wanted {
                let scored = load_scored(&wanted, open.desk.path())?;
                open.said = scored.said();
                (open.book, open.edition, open.wanted) = (scored.book, scored.edition, wanted);
            }
            self.follow();
        }
        Ok(taken)
    }

    /// Changes what the routine is.
    pub fn change_routine(&mut self, routine: Routine) -> Result<bool, SessionError> {
        match self.sheaf() {
            Some(sheaf) if sheaf.routine != routine => {
                let edit = Edit::routine(sheaf, routine);
                self.take(Step::Do(edit))
            }
            _ => Ok(false),
        }
    }

    /// Brings words, sheet and paper in step with the marks.
    fn follow(&mut self) {
        let Some(open) = &mut self.open else { return };
        let sheaf = open.desk.sheaf();
        let routine = &sheaf.routine;
        open.words = Vocabulary::of(&open.book, &routine.event, &routine.division);
        open.sheet = sheet::score(&open.book, sheaf);
        self.paper = Paper::of(sheaf, &open.sheet, |what| name(&open.book, routine, what));
        if let Some(path) = &self.shown {
            // For tests only; what goes wrong here shows there.
            let _ = fs::write(path, sheet::to_json(&open.sheet).to_string());
        }
    }

    /// Returns whether a routine is being written.
    pub fn is_open(&self) -> bool {
        self.open.is_some()
    }

    /// Returns the marks.
    pub fn sheaf(&self) -> Option<&Sheaf> {
        self.open.as_ref().map(|open| open.desk.sheaf())
    }

    /// Returns where the marks lie.
    pub fn path(&self) -> Option<&Path> {
        self.open.as_ref().map(|open| open.desk.path())
    }

    /// Returns the file to which the sheet on screen is written.
    pub fn shown(&self) -> Option<PathBuf> {
        self.shown.clone()
    }

    /// Returns the rule book.
    pub fn book(&self) -> Option<&Book> {
        self.open.as_ref().map(|open| &open.book)
    }

    /// Returns what the rule book is found by, where it is a file that may be written anew.
    ///
    /// Marks that are shown under the kept text of their edition stay under it until another is
    /// chosen in the header, whatever becomes of the file.
    pub fn book_file(&self) -> Option<&str> {
        let open = self.open.as_ref()?;
        let named = open.wanted.name.as_str();
        let follows = open.edition == Edition::Current && !rulebook::shipped().contains(&named);
        follows.then_some(named)
    }

    /// Goes on under a book that was written anew: a change like any other, which can be undone.
    pub fn take_book(&mut self, book: &Book) -> Result<bool, SessionError> {
        let Some(routine) = self.sheaf().map(|sheaf| sheaf.routine.clone()) else {
            return Ok(false);
        };
        let (edition, book_hash) = (book.edition.clone(), book.hash.clone());
        self.change_routine(Routine { edition, book_hash, ..routine })
    }

    /// Returns, once, what a judge should know of the edition that is scored under.
    pub fn say_edition(&mut self) -> Option<String> {
        self.open.as_mut()?.said.take()
    }

    /// Returns what something seen is called in the book's words.
    pub fn name(&self, what: &What) -> String {
        let open = self.open.as_ref();
        open.map_or_else(
            || words::moment(what),
            |open| name(&open.book, &open.desk.sheaf().routine, what),
        )
    }

    /// Returns the words of the book for the routine's event and division.
    pub fn words(&self) -> Option<&Vocabulary> {
        self.open.as_ref().map(|open| &open.words)
    }

    /// Returns the score sheet.
    pub fn sheet(&self) -> Option<&ScoreSheet> {
        self.open.as_ref().map(|open| &open.sheet)
    }

    /// Returns the paper.
    pub fn paper(&self) -> &Paper {
        &self.paper
    }

    /// Returns how a person turned the picture otherwise than its file says.
    pub fn turn(&self) -> Option<Orientation> {
        self.sheaf()?.clip.as_ref()?.orientation_override
    }

    /// Returns what is judged in words: event and division, then whose and when.
    pub fn routine_in_words(&self) -> (String, String) {
        let Some(open) = &self.open else {
            return (
                "No routine yet".to_owned(),
                "Event, division and judge are asked for when \
                    you write."
                    .to_owned(),
            );
        };
        let routine = &open.desk.sheaf().routine;
        let event = open.book.event(&routine.event).map_or(&routine.event, |event| &event.name);
        let division = open.book.division(&routine.division);
        let division = division.map_or(&routine.division, |division| &division.name);
        let aside = [&routine.athlete, &routine.judge, &routine.date, &open.book.title];
        let aside: Vec<&str> =
            aside.into_iter().filter(|part| !part.is_empty()).map(String::as_str).collect();
        (format!("{event}, {division}"), aside.join(" · "))
    }

    /// Returns the score as the title says it.
    pub fn score_in_words(&self) -> Option<String> {
        let sheet = self.sheet()?;
        Some(sheet.score.map_or_else(|| "void".to_owned(), |score: Points| score.to_string()))
    }

    /// Returns an id that was never used.
    pub fn fresh_id(&mut self) -> Option<Id> {
        self.open.as_mut().map(|open| open.desk.fresh_id())
    }

    /// Returns whether the file lags behind the marks.
    pub fn is_dirty(&self) -> bool {
        self.open.as_ref().is_some_and(|open| open.desk.is_dirty())
    }

    /// Writes the marks file, where there is anything to write.
    pub fn save(&mut self) -> Result<(), SessionError> {
        match &mut self.open {
            Some(open) if open.desk.is_dirty() => Ok(open.desk.save()?),
            _ => Ok(()),
        }
    }

    /// Returns a save to be carried out on another thread, where there is anything to write.
    pub fn begin_save(&self) -> Option<Saving> {
        self.open.as_ref().filter(|open| open.desk.is_dirty()).map(|open| open.desk.begin_save())
    }

    /// Takes note of a save that was carried out.
    pub fn finish_save(&mut self, saved: Saved) {
        if let Some(open) = &mut self.open {
            open.desk.finish_save(saved);
        }
    }

    /// Goes on with the same marks in another file; the old one stays as it is.
    pub fn go_on_in(&mut self, path: &Path) -> Result<(), SessionError> {
        let Some(sheaf) = self.sheaf().cloned() else { return Ok(()) };
        let desk = Desk::create(path, sheaf, &state_folder()?)?;
        self.set_out(desk)
    }

    /// Opens the marks once more as they lie on disk. What was not saved yet is set aside with
    /// the journal.
    pub fn reopen(&mut self) -> Result<(), SessionError> {
        let Some(path) = self.path().map(Path::to_owned) else { return Ok(()) };
        let shown = self.shown();
        // The journal is locked as long as the old marks are open.
        self.open = None;
        *self = Self::open(&path, shown)?;
        Ok(())
    }

    /// Returns the frames that carry something, in order, each once.
    pub fn marked_frames(&self) -> Vec<u64> {
        let mut frames: Vec<u64> = self.places().map(|(_, at)| at.index).collect();
        frames.sort_unstable();
        frames.dedup();
        frames
    }

    /// Returns the first thing that is pinned to a frame; an element before what hangs under it.
    pub fn first_on(&self, frame: u64) -> Option<Id> {
        let marks = self.sheaf()?.marks.iter();
        let elements = marks.filter(|mark| matches!(mark.what, What::Element { .. }));
        let on = |mark: &&Mark| mark.at.frame().is_some_and(|at| at.index == frame);
        let element = elements.into_iter().find(on).map(|mark| mark.id);
        element.or_else(|| self.places().find(|(_, at)| at.index == frame).map(|(id, _)| id))
    }

    fn places(&self) -> impl Iterator<Item = (Id, FrameRef)> {
        let sheaf = self.sheaf();
        let marks = sheaf.into_iter().flat_map(|it| it.marks.iter().map(|m| (m.id, m.at)));
        let readings = sheaf.into_iter().flat_map(|it| it.readings.iter().map(|r| (r.id, r.at)));
        let calls = sheaf.into_iter().flat_map(|it| it.calls.iter().map(|c| (c.id, c.at)));
        marks.chain(readings).chain(calls).filter_map(|(id, at)| Some((id, *at.frame()?)))
    }

    /// Returns the element that something belongs to: itself, the one it hangs under, or the last
    /// one at or before its frame.
    pub fn element_of(&self, id: Id) -> Option<Id> {
        let sheaf = self.sheaf()?;
        let item = sheaf.item(id)?;
        match &item {
            Item::Mark(Mark { what: What::Element { .. }, .. }) => Some(id),
            _ => item.of().or_else(|| self.element_at(item.at())),
        }
    }

    /// Returns the last element at or before a place.
    pub fn element_at(&self, at: &At) -> Option<Id> {
        let marks = self.sheaf()?.in_order();
        let element = |mark: &&&Mark| matches!(mark.what, What::Element { .. });
        let before = |mark: &&&Mark| mark.at.order() <= at.order();
        marks.iter().rfind(|mark| element(mark) && before(mark)).map(|mark| mark.id)
    }

    /// Returns what rules ask of an element, what is still waiting first.
    pub fn asked_of(&self, element: Id) -> Vec<Asked> {
        let lines = self.sheet().into_iter().flat_map(|sheet| &sheet.elements);
        let decisions = lines.filter(|line| line.mark == element).flat_map(|line| &line.decisions);
        let mut asked: Vec<Asked> = decisions
            .map(|decision| Asked {
                rule: decision.rule.clone(),
                label: decision.label.clone(),
                quantity: decision.quantity,
                waiting: decision.status.is_none(),
            })
            .collect();
        asked.sort_by_key(|asked| !asked.waiting);
        asked
    }

    /// Returns the rules that ask an element for a quantity.
    pub fn rules_for(&self, element: Id, quantity: Quantity) -> Vec<Rule> {
        let (Some(book), Some(sheet)) = (self.book(), self.sheet()) else { return Vec::new() };
        let lines = sheet.elements.iter().filter(|line| line.mark == element);
        let decisions = lines.flat_map(|line| &line.decisions);
        let ids: Vec<&str> =
            decisions.filter(|it| it.quantity == quantity).map(|it| it.rule.as_str()).collect();
        let standing = &sheet.standing;
        // Divisions may share a rule's id and differ in what it asks.
        let fits = |angle: &&Angle| {
            ids.contains(&angle.id.as_str())
                && angle.quantity == quantity
                && angle.scope.covers(&standing.event, &standing.division)
        };
        book.angles
            .iter()
            .filter(fits)
            .map(|angle| Rule {
                label: angle.label.clone(),
                moment: angle.moment.clone(),
                limit: angle.limit(),
            })
            .collect()
    }

    /// Returns what an element is called.
    pub fn name_of(&self, element: Id) -> String {
        let line = self.sheet().and_then(|it| it.elements.iter().find(|it| it.mark == element));
        line.map_or_else(|| "the element".to_owned(), |line| line.label.clone())
    }

    /// Returns the phase that the exercise is in at a place: what the hands did last tells.
    pub fn phase_at(&self, at: &At) -> Phase {
        let marks = self.sheaf().map(Sheaf::in_order).unwrap_or_default();
        let mut before = marks.iter().rev().filter(|mark| mark.at.order() <= at.order());
        before
            .find_map(|mark| match mark.what {
                What::HandContact { .. } => Some(Phase::Support),
                What::HandRelease => Some(Phase::SecondFlight),
                What::Landing { on: LandingOn::Feet, .. } => Some(Phase::Landing),
                What::Element { .. } => Some(Phase::FirstFlight),
                _ => None,
            })
            .unwrap_or(Phase::FirstFlight)
    }
}

/// Finds the book that marks name, in the edition that they were scored under where it is kept. A
/// book of one's own may have moved along with the marks.
fn load_scored(wanted: &Wanted, marks: &Path) -> Result<Scored, LoadError> {
    rulebook::load_scored(&wanted.name, &wanted.hash).or_else(|error| {
        let beside = Path::new(&wanted.name).file_name().map(|name| marks.with_file_name(name));
        let beside = beside.filter(|path| path.is_file()).ok_or(error)?;
        rulebook::load_scored(&beside.to_string_lossy(), &wanted.hash)
    })
}

fn state_folder() -> Result<StateFolder, SessionError> {
    StateFolder::of_user().ok_or(SessionError::NoStateFolder)
}

/// Returns what a mark is called in the book's words.
fn name(book: &Book, routine: &Routine, what: &What) -> String {
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
