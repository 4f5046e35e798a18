//! Reads marks files, or sittings of a set, and brings them into one report on agreement.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use super::{
    agreement::{self, Agreement, Compared, ScoreLine},
    set::{self, SetError},
    sitting::{self, SittingError},
};
use crate::{
    judged::{Judged, JudgedError, Judging},
    marks::StateFolder,
    store::about_to_read,
};

/// What is compared with what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AgreementWanted {
    /// Marks file of the reference, or a folder of them; for sittings the set file.
    pub reference: PathBuf,
    /// Marks files of others, or folders of them; or sittings of the set.
    pub others: Vec<PathBuf>,
    /// Rule book to score with instead of the one that each file names.
    pub rulebook: Option<String>,
}

/// Why there is no report.
#[derive(Debug, thiserror::Error)]
pub enum GatherError {
    /// The set cannot be had.
    #[error(transparent)]
    Set(#[from] SetError),
    /// A sitting cannot be read.
    #[error(transparent)]
    Sitting(#[from] SittingError),
    /// A marks file cannot be read or scored.
    #[error(transparent)]
    Judged(#[from] JudgedError),
    /// A sitting was named without its set.
    #[error("{0} is a sitting: name its set file as the reference")]
    SittingWithoutSet(PathBuf),
    /// A folder cannot be read.
    #[error("cannot read {folder}")]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A folder holds none of the files.
    #[error("{folder} holds no files *{ending}")]
    Nothing {
        /// The folder.
        folder: PathBuf,
        /// How their names would end.
        ending: &'static str,
    },
}

/// Returns the report on what is wanted. Slow: not for the thread of the window.
///
/// # Errors
///
/// Names the file that cannot be used, and why.
pub fn gather(wanted: &AgreementWanted) -> Result<Agreement, GatherError> {
    let is_set = wanted.reference.extension().is_some_and(|ending| ending == "toml");
    if is_set { of_set(wanted) } else { of_marks(wanted) }
}

/// Returns the report on sittings of a set, whose reference calls stand in the set file.
fn of_set(wanted: &AgreementWanted) -> Result<Agreement, GatherError> {
    let (set, book, _) = set::load(&wanted.reference)?;
    let (mut people, mut compared, mut remarks) = (Vec::new(), Vec::new(), Vec::new());
    let mut not_compared = Vec::new();
    for place in &wanted.others {
        for file in files(place, SITTING)? {
            let (begun, records) = sitting::read(&file)?;
            if begun.set != set.id {
                not_compared.push(format!("{}: a sitting of another set", file.display()));
                continue;
            }
            if begun.set_hash != set.hash {
                remarks.push(format!("{}: the set was changed since", file.display()));
            }
            remarks.extend(sitting::remarks(&file.display().to_string(), &records));
            compared.extend(sitting::results(&set, &begun, &records));
            if !people.contains(&begun.person) {
                people.push(begun.person);
            }
        }
    }
    let mut report = agreement::summary(&set.title, &people, &compared, &[]);
    report.books = vec![format!("{}, edition {}", book.title, book.edition)];
    report.not_compared.extend(not_compared);
    report.remarks = remarks;
    Ok(report)
}

fn of_marks(wanted: &AgreementWanted) -> Result<Agreement, GatherError> {
    let state = StateFolder::of_user();
    let mut judging = Judging::under(wanted.rulebook.as_deref(), state.as_ref())?;
    let mut found = Found::default();
    let mut reference = Vec::new();
    for file in files(&wanted.reference, MARKS)? {
        reference.extend(found.watched(judged(&mut judging, &file)?));
    }
    for place in &wanted.others {
        for file in files(place, MARKS)? {
            if let Some(other) = found.watched(judged(&mut judging, &file)?) {
                found.take(&reference, &other);
            }
        }
    }
    found.tell_unmatched(&reference);
    let code = reference.first().map_or("", |judged| judged.marked.sheaf.routine.judge.as_str());
    let code = if code.is_empty() { "the reference" } else { code };
    let mut report = agreement::summary(code, &found.people, &found.compared, &found.scores);
    report.books = found.books;
    report.not_compared.extend(found.not_compared);
    report.remarks = found.remarks;
    report.whose = found.whose;
    Ok(report)
}

fn judged(judging: &mut Judging, file: &Path) -> Result<Judged, JudgedError> {
    let mut marked = judging.read(file)?;
    if marked.sheaf.routine.judge.is_empty() {
        "no code".clone_into(&mut marked.sheaf.routine.judge);
    }
    let ruled = judging.book_of(&marked)?;
    Ok(marked.under(ruled, None))
}

/// What was found so far.
#[derive(Default)]
struct Found {
    people: Vec<String>,
    compared: Vec<Compared>,
    scores: Vec<ScoreLine>,
    remarks: Vec<String>,
    not_compared: Vec<String>,
    /// Clip and athlete of every routine.
    whose: Vec<(String, String)>,
    /// The books by title, each once.
    books: Vec<String>,
    seen: Vec<(String, String)>,
}

impl Found {
    /// Notes what was judged; a file that somebody began and nobody marked judges nothing.
    fn watched(&mut self, judged: Judged) -> Option<Judged> {
        if !judged.marked.is_watched() {
            let file = judged.marked.path.display();
            self.not_compared.push(format!("{file}: nobody watched it yet"));
            return None;
        }
        self.note(&judged);
        Some(judged)
    }

    fn tell_unmatched(&mut self, reference: &[Judged]) {
        for judged in reference {
            let routine = judged.routine();
            if !self.seen.iter().any(|(_, seen)| *seen == routine) {
                let file = judged.marked.path.display();
                let said = format!("{file}: nobody else has marks of this routine");
                self.not_compared.push(said);
            }
        }
    }

    fn note(&mut self, judged: &Judged) {
        self.remarks.extend(judged.said());
        self.whose.push(judged.marked.sheaf.whose());
        let title = judged.ruled.title();
        if !self.books.contains(&title) {
            self.books.push(title);
        }
    }

    fn take(&mut self, reference: &[Judged], other: &Judged) {
        let (routine, file) = (other.routine(), &other.marked.path);
        let Some(same) = reference.iter().find(|judged| judged.routine() == routine) else {
            let remark = format!("{}: the reference has no such routine", file.display());
            return self.not_compared.push(remark);
        };
        let code = other.marked.sheaf.routine.judge.clone();
        if self.seen.contains(&(code.clone(), routine.clone())) {
            let remark = format!("{}: {code} has marks of this routine already", file.display());
            return self.not_compared.push(remark);
        }
        let of = |judged: &Judged| {
            (judged.sheet.standing.book_hash.clone(), judged.marked.sheaf.routine.division.clone())
        };
        if of(same) != of(other) {
            self.remarks.push(format!(
                "{}: scored under another book or division than the reference",
                file.display()
            ));
        }
        let (compared, score) = agreement::compare(same, other);
        self.compared.extend(compared);
        self.scores.push(score);
        if !self.people.contains(&code) {
            self.people.push(code.clone());
        }
        self.seen.push((code, routine));
    }
}

/// How the names of marks files and of sittings end.
const MARKS: &str = ".marks.json";
const SITTING: &str = ".sitting";

/// Returns the file, or the files of the folder with this ending, by name.
fn files(place: &Path, ending: &'static str) -> Result<Vec<PathBuf>, GatherError> {
    about_to_read(place);
    if !place.is_dir() {
        // A sitting means something only beside its set.
        if ending == MARKS && place.to_string_lossy().ends_with(SITTING) {
            return Err(GatherError::SittingWithoutSet(place.to_owned()));
        }
        return Ok(vec![place.to_owned()]);
    }
    let entries = fs::read_dir(place)
        .map_err(|source| GatherError::Folder { folder: place.to_owned(), source })?;
    let mut files: Vec<PathBuf> = entries
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.to_string_lossy().ends_with(ending))
        .collect();
    files.sort();
    if files.is_empty() {
        return Err(GatherError::Nothing { folder: place.to_owned(), ending });
    }
    Ok(files)
}
