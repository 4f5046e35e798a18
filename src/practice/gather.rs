//! Reads marks files, or sittings of a set, and brings them into one report on agreement.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use super::{
    agreement::{self, Agreement, Compared, Judged, ScoreLine},
    set::{self, SetError},
    sitting::{self, SittingError},
};
use crate::{
    marks::{self, StateFolder},
    rulebook::{self, Book, LoadError},
    sheet,
    store::DocumentError,
};

/// What is compared with what.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
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
    /// A marks file cannot be read.
    #[error(transparent)]
    Marks(#[from] DocumentError),
    /// A marks file names no rule book.
    #[error("{0} does not say under which rule book it was judged; name one with --rulebook")]
    NoBook(PathBuf),
    /// The rule book of a marks file cannot be had.
    #[error("{file} was judged under \"{name}\"")]
    Book {
        /// The marks file.
        file: PathBuf,
        /// Its rule book.
        name: String,
        /// Why not.
        source: LoadError,
    },
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
pub fn gather(wanted: &Wanted) -> Result<Agreement, GatherError> {
    let is_set = wanted.reference.extension().is_some_and(|ending| ending == "toml");
    if is_set { of_set(wanted) } else { of_marks(wanted) }
}

/// Returns the report on sittings of a set, whose reference calls stand in the set file.
fn of_set(wanted: &Wanted) -> Result<Agreement, GatherError> {
    let (set, book, _) = set::load(&wanted.reference)?;
    let (mut people, mut compared, mut remarks) = (Vec::new(), Vec::new(), Vec::new());
    for place in &wanted.others {
        for file in files(place, SITTING)? {
            let (begun, records) = sitting::read(&file)?;
            if begun.set != set.id {
                remarks.push(format!("{}: a sitting of another set", file.display()));
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
    report.books = vec![title(&book)];
    report.remarks = remarks;
    Ok(report)
}

fn of_marks(wanted: &Wanted) -> Result<Agreement, GatherError> {
    let mut desk = Desk { rulebook: wanted.rulebook.as_deref(), books: Vec::new() };
    let mut reference = Vec::new();
    for file in files(&wanted.reference, MARKS)? {
        reference.push(desk.judged(&file)?);
    }
    let mut found = Found::default();
    for place in &wanted.others {
        for file in files(place, MARKS)? {
            let other = desk.judged(&file)?;
            found.take(&desk, &reference, &other, &file);
        }
    }
    let code = reference.first().map_or("", |judged| judged.sheaf.routine.judge.as_str());
    let code = if code.is_empty() { "the reference" } else { code };
    let mut report = agreement::summary(code, &found.people, &found.compared, &found.scores);
    report.books = desk.books.iter().map(|(_, book)| title(book)).collect();
    report.remarks = found.remarks;
    Ok(report)
}

fn title(book: &Book) -> String {
    format!("{}, edition {}", book.title, book.edition)
}

/// Reads marks files and the books that they name, each book once.
struct Desk<'a> {
    rulebook: Option<&'a str>,
    books: Vec<(String, Book)>,
}

impl Desk<'_> {
    fn judged(&mut self, file: &Path) -> Result<Judged, GatherError> {
        let mut sheaf = marks::load(file, StateFolder::of_user().as_ref())?;
        marks::renew(&mut sheaf);
        if sheaf.routine.judge.is_empty() {
            "no code".clone_into(&mut sheaf.routine.judge);
        }
        let name = self.rulebook.unwrap_or(&sheaf.routine.book).to_owned();
        if name.is_empty() {
            return Err(GatherError::NoBook(file.to_owned()));
        }
        let known = self.books.iter().position(|(known, _)| *known == name);
        let place = known.unwrap_or(self.books.len());
        if known.is_none() {
            let read = rulebook::load(&name);
            let book = read.map_err(|source| {
                let (file, name) = (file.to_owned(), name.clone());
                GatherError::Book { file, name, source }
            })?;
            self.books.push((name, book));
        }
        let sheet = sheet::score(&self.books[place].1, &sheaf);
        Ok(Judged { sheaf, sheet })
    }

    fn book(&self, name: &str) -> Option<&Book> {
        self.books.iter().find(|(known, _)| known == name).map(|(_, book)| book)
    }
}

/// What was found so far.
#[derive(Default)]
struct Found {
    people: Vec<String>,
    compared: Vec<Compared>,
    scores: Vec<ScoreLine>,
    remarks: Vec<String>,
    seen: Vec<(String, String)>,
}

impl Found {
    fn take(&mut self, desk: &Desk<'_>, reference: &[Judged], other: &Judged, file: &Path) {
        let routine = other.routine();
        let Some(same) = reference.iter().find(|judged| judged.routine() == routine) else {
            let remark = format!("{}: the reference has no such routine", file.display());
            return self.remarks.push(remark);
        };
        let code = other.sheaf.routine.judge.clone();
        if self.seen.contains(&(code.clone(), routine.clone())) {
            let remark = format!("{}: {code} has marks of this routine already", file.display());
            return self.remarks.push(remark);
        }
        let of = |judged: &Judged| {
            (judged.sheet.standing.book_hash.clone(), judged.sheaf.routine.division.clone())
        };
        if of(same) != of(other) {
            self.remarks.push(format!(
                "{}: scored under another book or division than the reference",
                file.display()
            ));
        }
        let name = desk.rulebook.unwrap_or(&same.sheaf.routine.book);
        if let Some(book) = desk.book(name) {
            let (compared, score) = agreement::compare(book, same, other);
            self.compared.extend(compared);
            self.scores.push(score);
        }
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
