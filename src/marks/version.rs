//! Other versions of one marks file: a sync client's copies, and what another computer wrote.

use std::{
    fs,
    io::Read as _,
    path::{Path, PathBuf},
};

use super::file::{self, FORMAT, Stored};
use crate::{
    store::{DocumentError, Held, about_to_read, open_file},
    units,
};

/// So much of a file says whether it may be of these marks.
const BEGINNING: u64 = 4096;

/// A version of marks, as a file holds it.
#[derive(Debug)]
pub struct Version {
    /// The file.
    pub path: PathBuf,
    /// What it holds.
    pub stored: Stored,
    pub(super) bytes: Vec<u8>,
    pub(super) held: Held,
}

impl Version {
    /// Reads a version.
    pub fn read(path: &Path) -> Result<Self, DocumentError> {
        let (bytes, held) = FORMAT.read(path)?;
        let stored = file::parse(&bytes, path)?;
        Ok(Self { path: path.to_owned(), stored, bytes, held })
    }

    /// Returns the file's name.
    pub fn name(&self) -> String {
        self.path.file_name().unwrap_or_default().to_string_lossy().into_owned()
    }
}

impl Stored {
    /// Returns whether both are versions of the same marks: of one document, by one judge. A file
    /// that was copied for another judge to begin with is none.
    pub(super) fn is_version_of(&self, other: &Self) -> bool {
        let of = |it: &Self| {
            let routine = &it.sheaf.routine;
            (it.document.clone(), routine.id.clone(), routine.judge.clone())
        };
        of(self) == of(other)
    }
}

/// Returns the files beside marks that hold other versions of them.
pub(crate) fn copies_of(path: &Path) -> Vec<PathBuf> {
    let own = file::read(path);
    let others = own.map(|own| beside(path, &own)).unwrap_or_default();
    others.into_iter().map(|version| version.path).collect()
}

/// Returns the other versions that lie in the folder of a marks file, whatever they are called,
/// by name.
pub(super) fn beside(path: &Path, of: &Stored) -> Vec<Version> {
    about_to_read(path);
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let Ok(entries) = fs::read_dir(folder.unwrap_or(Path::new("."))) else { return Vec::new() };
    let own = path.file_name();
    let mut others: Vec<PathBuf> = entries
        .flatten()
        .filter(|entry| Some(&*entry.file_name()) != own)
        .map(|entry| entry.path())
        // Clips are many, and opening them on a share takes long.
        .filter(|other| !units::is_clip_name(other))
        .filter(|other| begins_with(other, &[FORMAT.name, &of.document]))
        .collect();
    others.sort();
    let versions = others.iter().filter_map(|other| Version::read(other).ok());
    versions.filter(|version| version.stored.is_version_of(of)).collect()
}

/// Returns whether all of these occur in the beginning of a file.
pub(super) fn begins_with(path: &Path, words: &[&str]) -> bool {
    let mut beginning = Vec::new();
    let read = open_file(path).and_then(|file| file.take(BEGINNING).read_to_end(&mut beginning));
    let text = String::from_utf8_lossy(&beginning);
    read.is_ok() && words.iter().all(|word| text.contains(word))
}
