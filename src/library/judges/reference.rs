//! The marks of several judges of one routine, and what they agree on.

use std::path::{Path, PathBuf};

use crate::{
    judged::{Judged, JudgedError, Judging, Marked, Ruled},
    library::{
        consent::{
            sidecar::{Agreed, SealedMarks, Standing},
            sidecar_file::SidecarFile,
        },
        home::day::today,
    },
    marks::{self, DeskError, model::Unknown},
    sheet::{self, ScoreSheet, Together, TogetherError},
    store::DocumentError,
    units::{Orientation, TimeBase},
};

use super::agree::{Beside, calls_of, side_by_side};

/// Why judges could not be put side by side, or nothing could be agreed on.
#[derive(Debug, thiserror::Error)]
pub enum ReferenceError {
    /// A marks file could not be read or scored.
    #[error(transparent)]
    Judged(#[from] JudgedError),
    /// The clip's record could not be read or written.
    #[error(transparent)]
    Sidecar(#[from] DocumentError),
    /// They are of different routines.
    #[error("{one} and {other} are not of the same routine of the same clip")]
    Different {
        /// The first marks file.
        one: PathBuf,
        /// One of another routine.
        other: PathBuf,
    },
    /// There is none, or the same judge twice.
    #[error("a reference is agreed on by two judges or more, or stands on one judge's marks alone")]
    TooFew,
    /// Somebody began a marks file, and nobody marked anything in it.
    #[error("{0}: nobody watched it yet; it has no mark, reading or call to agree on")]
    NotWatched(PathBuf),
    /// The reference could not be written into its marks file.
    #[error(transparent)]
    Desk(#[from] DeskError),
    /// The routine has no clip.
    #[error("a planned routine has no clip to agree on")]
    NoClip,
}

/// Several judges of one routine.
#[derive(Debug)]
pub struct Judges {
    /// The book by which all are scored, with what is to be told of its edition.
    pub ruled: Ruled,
    /// Their marks files.
    pub marks: Vec<PathBuf>,
    /// Their codes, in the order of the files.
    pub codes: Vec<String>,
    /// Every question with their answers, differences first.
    pub rows: Vec<Beside>,
    /// What is to be told of the text by which a file is scored.
    pub remarks: Vec<String>,
    /// Length of one tick of their clip; nothing of a planned routine.
    pub time_base: Option<TimeBase>,
    /// How the first of them turned the picture.
    pub turn: Option<Orientation>,
    /// What each marked and what it comes to.
    pub(super) judged: Vec<Judged>,
    /// Their marks as they are now.
    sealed: Vec<SealedMarks>,
    /// What they, or others, agreed on before, with what became of it.
    pub agreed: Option<(Agreed, Standing)>,
}

impl Judges {
    /// Scores the marks files by one book: the one for all, or the first file's own in its edition.
    pub fn of(paths: &[PathBuf], judging: &mut Judging) -> Result<Self, ReferenceError> {
        let mut all: Vec<Judged> = Vec::new();
        for path in paths {
            let marked = judging.read(path).map_err(JudgedError::from)?;
            if !marked.is_watched() {
                return Err(ReferenceError::NotWatched(path.clone()));
            }
            if let Some(first) =
                all.first().filter(|first| routine(&first.marked) != routine(&marked))
            {
                let (one, other) = (first.marked.path.clone(), path.clone());
                return Err(ReferenceError::Different { one, other });
            }
            let ruled = judging.book_of(&marked)?;
            judging.keep_to(&ruled);
            all.push(marked.under(ruled, None));
        }
        let ruled = all.first().ok_or(ReferenceError::TooFew)?.ruled.clone();
        let rows = side_by_side(&all.iter().map(|judged| &judged.sheet).collect::<Vec<_>>());
        let codes = all.iter().map(|judged| judged.marked.sheaf.routine.judge.clone()).collect();
        let remarks = all.iter().filter_map(Judged::said).collect();
        let sealed = all.iter().map(|judged| sealed(&judged.marked)).collect();
        let clip = all.first().and_then(|first| first.marked.sheaf.clip.as_ref());
        let (time_base, turn) =
            (clip.map(|clip| clip.time_base), clip.and_then(|clip| clip.orientation_override));
        let agreed = all.first().and_then(|first| agreed_before(&first.marked, judging));
        Ok(Self {
            ruled,
            marks: paths.to_vec(),
            codes,
            rows,
            remarks,
            time_base,
            turn,
            judged: all,
            sealed,
            agreed,
        })
    }

    /// Puts their sheets together as the book says of a panel.
    pub fn panel(&self) -> Result<Together, TogetherError> {
        let sheets: Vec<ScoreSheet> =
            self.judged.iter().map(|judged| judged.sheet.clone()).collect();
        sheet::panel(&self.ruled.book, &sheets, None)
    }

    /// Writes into the clip's record that the judges agreed on what this marks file comes to, or that
    /// the one judge's marks are the reference; returns the record.
    pub fn agree_on(&self, version: &Path, judging: &Judging) -> Result<PathBuf, ReferenceError> {
        let marked = judging.read(version).map_err(JudgedError::from)?;
        if !marked.is_watched() {
            return Err(ReferenceError::NotWatched(version.to_owned()));
        }
        let Judged { marked, ruled, sheet } = marked.under(self.ruled.clone(), None);
        let of = marked.sheaf.clip.as_ref().ok_or(ReferenceError::NoClip)?;
        let mut by = self.codes.clone();
        by.sort();
        by.dedup();
        if by.len() < 2 && self.codes.len() != 1 {
            return Err(ReferenceError::TooFew);
        }
        let own = sealed(&marked);
        let others = self.sealed.iter().filter(|other| other.marks != own.marks).cloned();
        let mut file = SidecarFile::begin(&version.with_file_name(&of.name))?;
        let agreed = Agreed {
            routine: marked.sheaf.routine.id.clone(),
            by,
            on: today(),
            book: ruled.book.id.clone(),
            edition: ruled.book.edition.clone(),
            book_hash: ruled.book.hash.clone(),
            marks: own.marks.clone(),
            of: [own.clone()].into_iter().chain(others).collect(),
            calls: calls_of(&sheet),
            unknown: Unknown::new(),
        };
        file.sidecar.agreed.retain(|other| other.routine != agreed.routine);
        file.sidecar.agreed.push(agreed);
        file.save()?;
        Ok(file.path().to_owned())
    }
}

fn sealed(marked: &Marked) -> SealedMarks {
    SealedMarks::of(&marked.path, &marked.sheaf)
}

/// Returns what is agreed on of a routine, with what became of it.
fn agreed_before(marked: &Marked, judging: &Judging) -> Option<(Agreed, Standing)> {
    let clip = marked.path.with_file_name(&marked.sheaf.clip.as_ref()?.name);
    let noted = SidecarFile::open(&clip).ok()?.sidecar;
    let agreed = noted.agreed(&marked.sheaf.routine.id)?.clone();
    let seal_of = |name: &str| {
        let marked = judging.read(&clip.with_file_name(name)).ok()?;
        marked.is_watched().then(|| marks::seal(&marked.sheaf))
    };
    let standing = agreed.standing(seal_of);
    Some((agreed, standing))
}

/// Returns what tells one routine from another.
fn routine(marked: &Marked) -> (Option<&str>, &str) {
    let clip = marked.sheaf.clip.as_ref().map(|clip| clip.quick_id.as_str());
    (clip, &marked.sheaf.routine.id)
}
