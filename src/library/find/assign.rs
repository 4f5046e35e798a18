//! The same event, division, athlete or day for many routines at once, as after a meet.

use std::path::{Path, PathBuf};

use jiff::civil::Date;

use crate::{
    judged::{JudgedError, Judging},
    library::consent::code::Code,
    marks::{self, ClipFacts, Desk, DeskError, Edit, Routine, Sheaf, StateFolder, Step},
    rulebook::Book,
};

use super::search::Hit;

/// What routines are to have; what is not said stays as it is.
#[derive(Clone, Debug, Default)]
pub struct Settings<'a> {
    /// The rule book.
    pub book: Option<&'a Book>,
    /// Id of the event.
    pub event: Option<String>,
    /// Id of the division.
    pub division: Option<String>,
    /// Code of the athlete.
    pub athlete: Option<Code>,
    /// Day of the performance.
    pub date: Option<Date>,
    /// Code of the judge who will mark clips that nobody marked yet.
    pub judge: Option<Code>,
}

/// What became of one routine.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Assigned {
    /// Its marks file was changed; undo takes it back.
    Changed(PathBuf),
    /// It was so already.
    Same(PathBuf),
    /// A marks file was begun for a clip that had none.
    Begun(PathBuf),
}

/// Why a routine stays as it was.
#[derive(Debug, thiserror::Error)]
pub enum AssignError {
    /// Nobody marked it yet, and nobody is named who will.
    #[error("nobody marked it yet; say with --judge who will, and with --rulebook by which book")]
    NotMarked,
    /// The clip cannot be opened.
    #[error("{0}")]
    Clip(String),
    /// Its book is not to be had.
    #[error(transparent)]
    Book(#[from] JudgedError),
    /// The book does not know the event or the division, or the division does not compete there.
    #[error("{book} has no {what} \"{id}\"; there are: {known}")]
    Unknown {
        /// Title of the book.
        book: String,
        /// `event` or `division`.
        what: &'static str,
        /// What was said.
        id: String,
        /// Those that there are.
        known: String,
    },
    /// The marks file could not be changed.
    #[error(transparent)]
    Desk(#[from] DeskError),
}

/// Gives a routine the settings, in a step that can be undone. A clip that nobody marked gets a
/// marks file without marks; `facts` tells what such a file keeps of its clip. What there is to say of
/// its journal and of other versions is told in sentences.
pub fn assign(
    hit: &Hit,
    settings: &Settings<'_>,
    facts: &dyn Fn(&Path) -> Result<ClipFacts, String>,
    (judging, state): (&mut Judging, &StateFolder),
    tell: &mut dyn FnMut(&str),
) -> Result<Assigned, AssignError> {
    if let Some(path) = &hit.marks {
        let mut desk = Desk::open(path, state)?;
        desk.told().iter().for_each(|said| tell(said));
        let before = desk.sheaf().routine.clone();
        let after = settings.applied(&before);
        check(&after, settings, (judging, path))?;
        if after == before {
            // The step may be of an earlier time, when it could not be saved.
            if desk.is_dirty() {
                desk.save()?;
            }
            return Ok(Assigned::Same(path.clone()));
        }
        let (before, after) = (Box::new(before), Box::new(after));
        desk.take(Step::Do(Edit::Routine { before, after }))?;
        desk.save()?;
        return Ok(Assigned::Changed(path.clone()));
    }
    let (Some(clip), Some(judge), Some(book)) = (&hit.clip, &settings.judge, settings.book) else {
        return Err(AssignError::NotMarked);
    };
    let routine = settings.applied(&Routine {
        id: "1".to_owned(),
        judge: judge.to_string(),
        book: book.id.clone(),
        ..Routine::default()
    });
    check(&routine, settings, (judging, clip))?;
    let path = marks::path_for(clip, &routine.id, judge.as_str());
    let clip = Some(facts(clip).map_err(AssignError::Clip)?);
    Desk::create(&path, Sheaf { clip, routine, ..Sheaf::default() }, state)?;
    Ok(Assigned::Begun(path))
}

impl Settings<'_> {
    fn applied(&self, routine: &Routine) -> Routine {
        let mut after = routine.clone();
        if let Some(book) = self.book.filter(|book| book.id != routine.book) {
            after.book.clone_from(&book.id);
            // Those were of the other book.
            (after.edition, after.book_hash) = Default::default();
        }
        let date = self.date.map(|day| day.to_string());
        let athlete = self.athlete.as_ref().map(ToString::to_string);
        for (place, said) in [
            (&mut after.event, &self.event),
            (&mut after.division, &self.division),
            (&mut after.athlete, &athlete),
            (&mut after.date, &date),
        ] {
            if let Some(said) = said {
                place.clone_from(said);
            }
        }
        after
    }
}

/// Looks whether the routine's book knows its event and division.
fn check(
    routine: &Routine,
    settings: &Settings<'_>,
    (judging, marks): (&mut Judging, &Path),
) -> Result<(), AssignError> {
    let own;
    let book = if let Some(book) = settings.book {
        book
    } else {
        own = judging.book(routine, marks)?.book;
        &own
    };
    let unknown = |what, id: &str, known: Vec<&str>| AssignError::Unknown {
        book: book.title.clone(),
        what,
        id: id.to_owned(),
        known: known.join(", "),
    };
    if !routine.event.is_empty() && book.event(&routine.event).is_none() {
        let known = book.events.iter().map(|event| event.id.as_str()).collect();
        return Err(unknown("event", &routine.event, known));
    }
    let divisions = || book.divisions_of(&routine.event).map(|division| division.id.as_str());
    if !routine.division.is_empty() && divisions().all(|id| id != routine.division) {
        return Err(unknown("division", &routine.division, divisions().collect()));
    }
    Ok(())
}
