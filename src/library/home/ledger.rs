//! What was made, handed out and deleted: one line of JSON each, in the library's own folder.

use std::{marker::PhantomData, path::PathBuf};

use jiff::civil::Date;
use serde::{Deserialize, Serialize, de::DeserializeOwned};

use super::folder::Home;
use crate::{
    library::consent::code::Code,
    store::{Begin, Keeping, Lock, Log, LogError, Readers, plain_lines},
};

const KEEPING: Keeping =
    Keeping { checked: false, lock: Lock::Waited, synced: true, readers: Readers::User };

/// A file that the program made from a clip or its marks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Made {
    /// Where it was written, absolute.
    pub path: PathBuf,
    /// What it is.
    #[serde(default)]
    pub kind: FileKind,
    /// Quick id of a clip that it tells of; a file has a line for each. Empty for a planned routine
    /// and for what tells of nobody.
    pub clip: String,
    /// Code of an athlete on it.
    pub athlete: String,
    /// Day.
    pub on: Date,
}

/// What a file is that the program made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum FileKind {
    /// Something with scores on it, which always carries the caution.
    #[default]
    Sheet,
    /// Another page: a card, a slip.
    Page,
    /// One frame, or several as one picture or as a replay.
    Picture,
    /// A part of a clip as a clip of its own.
    Clip,
    /// A bundle for another club; it is entered in the list of what was handed out.
    Bundle,
    /// A set for practice. A withdrawal or deletion takes its looks at the clip out of it.
    Set,
    /// A rule book.
    Book,
}

/// A bundle that was handed out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedOut {
    /// Where it was written, absolute.
    pub path: PathBuf,
    /// BLAKE3 hash of the whole bundle.
    pub hash: String,
    /// For whom, in the words of who made it.
    pub to: String,
    /// Whether clips are in it.
    pub pictures: bool,
    /// Codes of the athletes in it who have not withdrawn.
    pub athletes: Vec<String>,
    /// Quick ids of the clips that it holds or tells of.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub clips: Vec<String>,
    /// How many of those in it have withdrawn since.
    #[serde(default)]
    pub withdrawn: u32,
    /// Day.
    pub on: Date,
}

/// A deletion, with the proof that nothing is left. It names nobody who is filmed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Deletion {
    /// Random name of it; empty in lines of earlier versions.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub id: String,
    /// Day.
    pub on: Date,
    /// Who deleted, by role or code.
    pub by: String,
    /// Who witnessed it.
    pub witness: String,
    /// Why: `deleted` or `consent withdrawn`.
    pub why: String,
    /// Quick ids of the clips.
    pub clips: Vec<String>,
    /// How many files went.
    pub files: usize,
    /// Whether marks and numbers were kept.
    pub kept_marks: bool,
    /// How many files were looked at afterwards, by content and by code.
    #[serde(default, skip_serializing_if = "is_none")]
    pub looked_at: usize,
    /// What that found, with `…` in the place of a code; nothing where nothing is left.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub left: Vec<String>,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde hands a reference over")]
fn is_none(count: &usize) -> bool {
    *count == 0
}

/// A list of such lines; changed by one process at a time.
#[derive(Debug)]
pub struct Ledger<T> {
    log: Log,
    kind: PhantomData<T>,
}

/// A kind of line, and the file in which it is kept.
pub trait LedgerEntry: Serialize + DeserializeOwned {
    /// Name of the file.
    const FILE: &'static str;
}

impl LedgerEntry for Made {
    const FILE: &'static str = "made.jsonl";
}

impl LedgerEntry for HandedOut {
    const FILE: &'static str = "handed-out.jsonl";
}

impl LedgerEntry for Deletion {
    const FILE: &'static str = "deletions.jsonl";
}

impl<T: LedgerEntry> Ledger<T> {
    /// Opens the list and waits for whoever is changing it.
    pub fn open(home: &Home) -> Result<Self, LogError> {
        let log = Log::open(&home.path().join(T::FILE), Begin::Either, KEEPING)?;
        Ok(Self { log, kind: PhantomData })
    }

    /// Returns the lines; one that a crash cut short is passed over.
    pub fn lines(&mut self) -> Result<Vec<T>, LogError> {
        Ok(plain_lines(&self.log.bytes()?))
    }

    /// Returns whether a code stands anywhere in it, also in what a crash cut short.
    pub(crate) fn names(&mut self, code: &Code) -> Result<bool, LogError> {
        Ok(code.is_in(&self.log.bytes()?))
    }

    /// Adds a line.
    pub fn add(&mut self, line: &T) -> Result<(), LogError> {
        self.log.append(line)?;
        Ok(())
    }

    /// Puts other lines in the place of all, and keeps nothing of those that were there.
    pub fn replace(&mut self, lines: &[T]) -> Result<(), LogError> {
        self.log.replace(lines)
    }
}
