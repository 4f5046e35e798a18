//! The marks of several judges of one routine, and what they agree on.

use std::path::{Path, PathBuf};

use crate::{
    library::consent::{ask::today, sidecar::Agreed, sidecar_file::SidecarFile},
    marks::{self, Sheaf, StateFolder, model::Unknown},
    rulebook::{self, Book, LoadError},
    sheet::{self, ScoreSheet},
    store::DocumentError,
};

use super::agree::{Beside, calls_of, side_by_side};

/// Why judges could not be put side by side, or nothing could be agreed on.
#[derive(Debug, thiserror::Error)]
pub enum ReferenceError {
    /// A marks file could not be read, or the clip's record not be read or written.
    #[error(transparent)]
    File(#[from] DocumentError),
    /// The rule book is not to be had.
    #[error(transparent)]
    Book(#[from] LoadError),
    /// They are of different routines.
    #[error("{one} and {other} are not of the same routine of the same clip")]
    Different {
        /// The first marks file.
        one: PathBuf,
        /// One of another routine.
        other: PathBuf,
    },
    /// There is only one judge, or none.
    #[error("a reference is agreed on by two judges or more")]
    TooFew,
    /// The routine has no clip.
    #[error("a planned routine has no clip to agree on")]
    NoClip,
}

/// Several judges of one routine.
#[derive(Debug)]
pub struct Judges {
    /// The book by which all are scored.
    pub book: Book,
    /// Their marks files.
    pub marks: Vec<PathBuf>,
    /// Their codes, in the order of the files.
    pub codes: Vec<String>,
    /// Every question with their answers, differences first.
    pub rows: Vec<Beside>,
}

impl Judges {
    /// Scores the marks files by one book: the one named, or the first file's own.
    pub fn of(
        paths: &[PathBuf],
        book: Option<&str>,
        state: Option<&StateFolder>,
    ) -> Result<Self, ReferenceError> {
        let sheaves: Vec<Sheaf> =
            paths.iter().map(|path| load(path, state)).collect::<Result<_, _>>()?;
        let [first, others @ ..] = sheaves.as_slice() else { return Err(ReferenceError::TooFew) };
        let of = |sheaf: &Sheaf| {
            let clip = sheaf.clip.as_ref().map(|clip| clip.quick_id.clone());
            (clip, sheaf.routine.id.clone())
        };
        if let Some(at) = others.iter().position(|other| of(other) != of(first)) {
            let (one, other) = (paths[0].clone(), paths[at + 1].clone());
            return Err(ReferenceError::Different { one, other });
        }
        let book = rulebook::load(book.unwrap_or(&first.routine.book))?;
        let sheets: Vec<ScoreSheet> =
            sheaves.iter().map(|sheaf| sheet::score(&book, sheaf)).collect();
        let rows = side_by_side(&sheets.iter().collect::<Vec<_>>());
        let codes = sheaves.iter().map(|sheaf| sheaf.routine.judge.clone()).collect();
        Ok(Self { book, marks: paths.to_vec(), codes, rows })
    }

    /// Writes into the clip's record that the judges agreed on what this marks file comes to;
    /// returns the record.
    pub fn agree_on(
        &self,
        version: &Path,
        state: Option<&StateFolder>,
    ) -> Result<PathBuf, ReferenceError> {
        let sheaf = load(version, state)?;
        let of = sheaf.clip.as_ref().ok_or(ReferenceError::NoClip)?;
        let mut by = self.codes.clone();
        by.sort();
        by.dedup();
        if by.len() < 2 {
            return Err(ReferenceError::TooFew);
        }
        let mut file = SidecarFile::begin(&version.with_file_name(&of.name))?;
        let agreed = Agreed {
            routine: sheaf.routine.id.clone(),
            by,
            on: today(),
            book: self.book.id.clone(),
            edition: self.book.edition.clone(),
            book_hash: self.book.hash.clone(),
            marks: version.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            calls: calls_of(&sheet::score(&self.book, &sheaf)),
            unknown: Unknown::new(),
        };
        file.sidecar.agreed.retain(|other| other.routine != agreed.routine);
        file.sidecar.agreed.push(agreed);
        file.save()?;
        Ok(file.path().to_owned())
    }
}

/// Reads a marks file with its values worked out anew.
pub fn load(path: &Path, state: Option<&StateFolder>) -> Result<Sheaf, DocumentError> {
    let mut sheaf = marks::load(path, state)?;
    marks::renew(&mut sheaf);
    Ok(sheaf)
}
