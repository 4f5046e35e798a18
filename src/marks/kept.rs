//! Files in which something of marks is kept that does not count: found, and read.

use std::{
    fs,
    path::{Path, PathBuf},
    time::SystemTime,
};

use super::{
    entries::{self, Entries},
    file::{self, Stored},
    state::StateFolder,
    version,
};
use crate::store::{about_to_read, read_file};

/// What it takes to find everything that was set aside of marks.
#[derive(Clone, Debug)]
pub struct AsideSearch {
    pub(super) path: PathBuf,
    pub(super) journal: PathBuf,
    /// The marks as they stand.
    pub(super) own: Stored,
}

/// A file in which something was set aside.
#[derive(Debug)]
pub struct KeptAside {
    pub(super) kind: AsideKind,
    pub(super) path: PathBuf,
    pub(super) bytes: u64,
    pub(super) written: Option<SystemTime>,
    /// BLAKE3 hash of the file.
    pub(super) hash: String,
    pub(super) held: HeldAside,
}

/// What such a file holds.
#[derive(Debug)]
pub(super) enum HeldAside {
    /// A version of the marks.
    Version(Box<Stored>),
    /// Steps.
    Journal(Box<Entries>),
}

/// Why something was set aside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AsideKind {
    /// A journal before its damaged end was cut off.
    TornJournal,
    /// A journal that the marks file did not go on from.
    OtherJournal,
    /// A version that was in the marks file until it was joined with this one.
    OtherVersion,
    /// A version that lies beside the marks file.
    Copy,
    /// Marks of the same routine in the user's own folder, where the clip's could not be written.
    OwnFolder,
}

impl AsideKind {
    /// Returns what it is, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::TornJournal => "journal with a damaged end",
            Self::OtherJournal => "journal of another version",
            Self::OtherVersion => "version of another computer",
            Self::Copy => "copy beside the marks",
            Self::OwnFolder => "marks in your own folder",
        }
    }
}

impl AsideSearch {
    /// Returns everything that was set aside, the oldest first. Slow: it reads folders.
    pub fn look(&self, state: &StateFolder) -> Vec<KeptAside> {
        let journals = self.journal.parent().map(files_in).unwrap_or_default();
        let kept = journals.iter().filter_map(|path| self.kept(path));
        let version = |stored| HeldAside::Version(Box::new(stored));
        let copies = version::beside(&self.path, &self.own).into_iter();
        let copies =
            copies.map(|it| KeptAside::read(AsideKind::Copy, &it.path, version(it.stored)));
        let elsewhere = files_in(&state.marks()).into_iter().filter(|path| *path != self.path);
        let elsewhere = elsewhere.filter_map(|path| {
            let stored = file::read(&path).ok().filter(|it| is_of_routine(it, &self.own))?;
            Some(KeptAside::read(AsideKind::OwnFolder, &path, version(stored)))
        });
        let mut all: Vec<KeptAside> = kept.chain(copies).chain(elsewhere).collect();
        all.sort_by(|a, b| (a.written, &a.path).cmp(&(b.written, &b.path)));
        all
    }

    /// Returns what a file beside the journals holds, where it is of these marks.
    fn kept(&self, path: &Path) -> Option<KeptAside> {
        if path == self.journal {
            return None;
        }
        let ending = path.extension()?.to_str()?;
        let kind = match ending.split_once('-').map_or(ending, |(why, _)| why) {
            "torn" => AsideKind::TornJournal,
            // A journal under another name is that of the marks where they lay before.
            "other" | "journal" => AsideKind::OtherJournal,
            "version" => AsideKind::OtherVersion,
            _ => return None,
        };
        let own = &self.own;
        let is_here = path.file_stem() == self.journal.file_stem();
        // Journals of everything else are not read to their end.
        if !is_here && !version::begins_with(path, &[&own.document]) {
            return None;
        }
        if kind == AsideKind::OtherVersion {
            let stored = file::read(path).ok().filter(|it| it.document == own.document)?;
            return Some(KeptAside::read(kind, path, HeldAside::Version(Box::new(stored))));
        }
        let entries = entries::read(path).ok()?;
        // The line that says whose it is may be the damaged one.
        if entries.document != own.document && !(is_here && entries.document.is_empty()) {
            return None;
        }
        Some(KeptAside::read(kind, path, HeldAside::Journal(Box::new(entries))))
    }
}

impl KeptAside {
    fn read(kind: AsideKind, path: &Path, held: HeldAside) -> Self {
        let facts = fs::metadata(path).ok();
        let bytes = facts.as_ref().map_or(0, fs::Metadata::len);
        let written = facts.and_then(|facts| facts.modified().ok());
        let hash = read_file(path).map(|bytes| blake3::hash(&bytes).to_hex().to_string());
        let (path, hash) = (path.to_owned(), hash.unwrap_or_default());
        Self { kind, path, bytes, written, hash, held }
    }
}

/// Returns whether both are marks of one routine of one clip by one judge, who goes by another
/// number where the first name was taken.
fn is_of_routine(one: &Stored, other: &Stored) -> bool {
    let of = |it: &Stored| {
        let clip = it.sheaf.clip.as_ref().map(|clip| clip.quick_id.clone());
        (clip, it.sheaf.routine.id.clone(), it.sheaf.routine.judge.clone())
    };
    of(one).0.is_some() && of(one) == of(other)
}

fn files_in(folder: &Path) -> Vec<PathBuf> {
    about_to_read(folder);
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
    files.sort();
    files
}
