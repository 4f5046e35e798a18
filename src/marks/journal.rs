//! The journal: every change is appended here before it is shown, so that a crash loses nothing
//! and undo survives a restart.

use std::{
    io,
    path::{Path, PathBuf},
};

use super::{
    damage::Damage,
    edit::Step,
    entries::{Entries, Record, is_of, parse},
    file::{Included, Stored},
    ids::IdRoom,
    model::Id,
};
use crate::store::{Begin, Keeping, Lock, Log, LogError, Readers};

/// A step is with the system before it is shown; the disk may take its time.
const KEEPING: Keeping =
    Keeping { checked: true, lock: Lock::Refused, synced: false, readers: Readers::User };

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
    /// There is no number left for another step.
    #[error(
        "the journal {path} has no number left for another step. Nothing was entered; go on with \
         these marks in a new file"
    )]
    Full {
        /// The journal.
        path: PathBuf,
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

/// A journal open for appending, locked against other windows.
#[derive(Debug)]
pub struct Journal {
    log: Log,
    last: Included,
}

/// A journal that was opened.
#[derive(Debug)]
pub struct OpenJournal {
    /// For appending.
    pub journal: Journal,
    /// What it holds.
    pub entries: Entries,
    /// What the journal held that was kept here of another version of these marks.
    pub left: Option<Entries>,
    /// What did not count, and the file in which all is kept.
    pub lost: Option<(Damage, PathBuf)>,
}

impl Journal {
    /// Opens or begins the journal of the marks in a file; where it is begun, new things get their
    /// ids from `room`.
    ///
    /// A journal that grew from another document, or not from the file that includes
    /// `included`, is set aside and a new one begun.
    pub fn open(
        path: &Path,
        Stored { document, included, sheaf, .. }: &Stored,
        room: IdRoom,
    ) -> Result<OpenJournal, JournalError> {
        let mut log = Log::open(path, Begin::Either, KEEPING)?;
        let entries = parse(&log.bytes()?);
        let doubt = entries.doubt(document);
        if is_of(&entries, document, included) {
            let aside = log.keep_whole(entries.whole_bytes)?;
            let last = entries.last().clone();
            let journal = Self { log, last };
            return Ok(OpenJournal { journal, entries, left: None, lost: doubt.zip(aside) });
        }
        let aside = log.begin_anew("other")?;
        log.append(&Record::Document(document.clone()))?;
        if included.sequence > 0 {
            log.append(&Record::From(included.clone()))?;
        }
        let known: Vec<Id> = sheaf.ids().collect();
        log.append(&Record::Ids { known: known.clone(), after: room.after })?;
        if let Some(clip) = &sheaf.clip {
            log.append(&Record::Clip(Box::new(clip.clone())))?;
        }
        let journal = Self { log, last: included.clone() };
        let left = Some(entries).filter(|entries| entries.document == *document);
        let entries = Entries::begun(included.clone(), known, room);
        Ok(OpenJournal { journal, entries, left, lost: doubt.zip(aside) })
    }

    /// Appends one step and hands it to the system before returning.
    pub fn append(&mut self, step: &Step) -> Result<(), JournalError> {
        let full = || JournalError::Full { path: self.log.path().to_owned() };
        let sequence = self.last.sequence.checked_add(1).ok_or_else(full)?;
        let record = Record::Step { sequence, step: step.clone() };
        let checksum = self.log.append(&record)?;
        self.last = Included { sequence, checksum };
        Ok(())
    }

    /// Notes that another version was joined.
    pub fn note_joined(&mut self, joined: &Included) -> Result<(), JournalError> {
        self.log.append(&Record::Joined(joined.clone()))?;
        Ok(())
    }

    /// Notes that what was set aside in a file of this hash is settled.
    pub fn note_settled(&mut self, hash: &str) -> Result<(), JournalError> {
        self.log.append(&Record::Settled(hash.to_owned()))?;
        Ok(())
    }

    /// Returns its file.
    pub fn path(&self) -> &Path {
        self.log.path()
    }

    /// Returns the last step appended.
    pub fn last(&self) -> &Included {
        &self.last
    }
}
