//! The journal: every change is appended here before it is shown, so that a crash loses nothing
//! and undo survives a restart.
//!
//! One line per step: a checksum, a space, the step as JSON. A line whose checksum is wrong ends
//! the journal: it is the torn tail of a crash.

use std::{
    io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::{edit::Step, file::Included};
use crate::store::{Begin, Keeping, Lock, Log, LogError, read_file, whole_lines};

/// A step is with the system before it is shown; the disk may take its time.
const KEEPING: Keeping = Keeping { checked: true, lock: Lock::Refused, synced: false };

/// What a journal holds.
#[derive(Debug, Default)]
pub struct Entries {
    /// The document it belongs to.
    pub document: String,
    /// What the marks file contained when the journal was begun; on another computer, or after
    /// the file was moved, that may be many steps, which this journal never held.
    from: Included,
    /// Its steps with their checksums, in order.
    pub steps: Vec<JournalEntry>,
    /// Length in bytes of what is whole.
    whole_bytes: usize,
}

/// One step of a journal.
#[derive(Clone, Debug)]
pub struct JournalEntry {
    /// Its sequence number, from 1 for the document's first step, and checksum.
    pub place: Included,
    /// The step.
    pub step: Step,
}

/// Why a journal could not be used.
#[derive(Debug, thiserror::Error)]
pub enum JournalError {
    /// Another window edits the same marks file.
    #[error("these marks are being edited in another window. Close it there first")]
    Busy,
    /// The user's state folder is read-only, full or gone.
    #[error("cannot keep the journal {path}: {source}. Free some space or set STILLCALL_STATE")]
    Io {
        /// The journal.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
}

impl From<LogError> for JournalError {
    fn from(error: LogError) -> Self {
        match error {
            LogError::Busy { .. } => Self::Busy,
            LogError::Io { path, source } => Self::Io { path, source },
        }
    }
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Record {
    Document(String),
    /// Follows the document where its file already contained steps.
    From(Included),
    Step {
        sequence: u64,
        step: Step,
    },
}

/// Reads a journal; a missing one is empty.
pub fn read(path: &Path) -> io::Result<Entries> {
    match read_file(path) {
        Ok(bytes) => Ok(parse(&bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Entries::default()),
        Err(error) => Err(error),
    }
}

fn parse(bytes: &[u8]) -> Entries {
    let mut entries = Entries::default();
    for line in whole_lines(bytes) {
        match serde_json::from_str(line.json) {
            Ok(Record::Document(document)) if entries.whole_bytes == 0 => {
                entries.document = document;
            }
            Ok(Record::From(from)) if entries.steps.is_empty() => entries.from = from,
            Ok(Record::Step { sequence, step }) if sequence == entries.last().sequence + 1 => {
                let place = Included { sequence, checksum: line.checksum.to_owned() };
                entries.steps.push(JournalEntry { place, step });
            }
            // A number out of turn is as good as a torn line: what follows cannot be trusted.
            _ => break,
        }
        entries.whole_bytes = line.end;
    }
    entries
}

impl Entries {
    /// Returns the last step that the marks contain with all entries.
    fn last(&self) -> &Included {
        self.steps.last().map_or(&self.from, |entry| &entry.place)
    }
}

/// A journal open for appending, locked against other windows.
#[derive(Debug)]
pub struct Journal {
    log: Log,
    last: Included,
}

impl Journal {
    /// Opens or begins the journal of `document` and returns it with the steps it holds.
    ///
    /// A journal that grew from another document, or not from the file that includes
    /// `included`, is set aside and a new one begun.
    pub fn open(
        path: &Path,
        document: &str,
        included: &Included,
    ) -> Result<(Self, Vec<JournalEntry>), JournalError> {
        let mut log = Log::open(path, Begin::Either, KEEPING)?;
        let entries = parse(&log.bytes()?);
        if is_of(&entries, document, included) {
            log.keep_whole(entries.whole_bytes)?;
            let last = entries.last().clone();
            return Ok((Self { log, last }, entries.steps));
        }
        log.begin_anew("other")?;
        log.append(&Record::Document(document.to_owned()))?;
        if included.sequence > 0 {
            log.append(&Record::From(included.clone()))?;
        }
        Ok((Self { log, last: included.clone() }, Vec::new()))
    }

    /// Appends one step and hands it to the system before returning.
    pub fn append(&mut self, step: &Step) -> Result<(), JournalError> {
        let sequence = self.last.sequence + 1;
        let record = Record::Step { sequence, step: step.clone() };
        let checksum = self.log.append(&record)?;
        self.last = Included { sequence, checksum };
        Ok(())
    }

    /// Returns the last step appended.
    pub fn last(&self) -> &Included {
        &self.last
    }
}

/// Returns whether a marks file of `document` that includes `included` grew from these entries.
pub(crate) fn is_of(entries: &Entries, document: &str, included: &Included) -> bool {
    if entries.document != document {
        return false;
    }
    if *included == entries.from {
        return true;
    }
    let place = included.sequence.checked_sub(entries.from.sequence + 1);
    let entry = place.and_then(|place| entries.steps.get(place as usize));
    entry.is_some_and(|entry| entry.place == *included)
}
