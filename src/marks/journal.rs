//! The journal: every change is appended here before it is shown, so that a crash loses nothing
//! and undo survives a restart.
//!
//! One line per step: a checksum, a space, the step as JSON. A line whose checksum is wrong ends
//! the journal: it is the torn tail of a crash. It is kept aside before it is cut off.

use std::{
    fs::{self, File, OpenOptions, TryLockError},
    io::{self, Seek as _, SeekFrom, Write as _},
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::{edit::Step, file::Included};

/// What a journal holds.
#[derive(Debug, Default)]
pub struct Entries {
    /// The document it belongs to.
    pub document: String,
    /// What the marks file contained when the journal was begun; on another computer, or after
    /// the file was moved, that may be many steps, which this journal never held.
    from: Included,
    /// Its steps with their checksums, in order.
    pub steps: Vec<Entry>,
    /// Length in bytes of what is whole.
    whole_bytes: u64,
}

/// One step of a journal.
#[derive(Clone, Debug)]
pub struct Entry {
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
    match fs::read(path) {
        Ok(bytes) => Ok(parse(&bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Entries::default()),
        Err(error) => Err(error),
    }
}

fn parse(bytes: &[u8]) -> Entries {
    let mut entries = Entries::default();
    for line in bytes.split_inclusive(|&byte| byte == b'\n') {
        let Some((checksum, record)) = parse_line(line) else { break };
        match record {
            Record::Document(document) if entries.whole_bytes == 0 => entries.document = document,
            Record::From(from) if entries.steps.is_empty() => entries.from = from,
            Record::Step { sequence, step } if sequence == entries.last().sequence + 1 => {
                let place = Included { sequence, checksum };
                entries.steps.push(Entry { place, step });
            }
            // A number out of turn is as good as a torn line: what follows cannot be trusted.
            _ => break,
        }
        entries.whole_bytes += line.len() as u64;
    }
    entries
}

impl Entries {
    /// Returns the last step that the marks contain with all entries.
    fn last(&self) -> &Included {
        self.steps.last().map_or(&self.from, |entry| &entry.place)
    }
}

fn parse_line(line: &[u8]) -> Option<(String, Record)> {
    let line = line.strip_suffix(b"\n")?;
    let text = std::str::from_utf8(line).ok()?;
    let (checksum, json) = text.split_once(' ')?;
    (checksum == checksum_of(json)).then_some(())?;
    Some((checksum.to_owned(), serde_json::from_str(json).ok()?))
}

fn checksum_of(json: &str) -> String {
    blake3::hash(json.as_bytes()).to_hex()[..16].to_owned()
}

/// A journal open for appending, locked against other windows.
#[derive(Debug)]
pub struct Journal {
    path: PathBuf,
    file: File,
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
    ) -> Result<(Self, Vec<Entry>), JournalError> {
        let failed = |source| JournalError::Io { path: path.to_owned(), source };
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(failed)?;
        }
        let mut options = OpenOptions::new();
        let file = options.read(true).write(true).create(true).truncate(false).open(path);
        let file = file.map_err(failed)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Err(JournalError::Busy),
            Err(TryLockError::Error(source)) => return Err(failed(source)),
        }
        let entries = read(path).map_err(failed)?;
        let mut journal = Self { path: path.to_owned(), file, last: Included::default() };
        let steps = journal.take_over(entries, document, included).map_err(failed)?;
        Ok((journal, steps))
    }

    /// Appends one step and hands it to the system before returning.
    pub fn append(&mut self, step: &Step) -> Result<(), JournalError> {
        let sequence = self.last.sequence + 1;
        let record = Record::Step { sequence, step: step.clone() };
        let checksum = self
            .write(&record)
            .map_err(|source| JournalError::Io { path: self.path.clone(), source })?;
        self.last = Included { sequence, checksum };
        Ok(())
    }

    /// Returns the last step appended.
    pub fn last(&self) -> &Included {
        &self.last
    }

    fn take_over(
        &mut self,
        entries: Entries,
        document: &str,
        included: &Included,
    ) -> io::Result<Vec<Entry>> {
        let size = self.file.metadata()?.len();
        if is_of(&entries, document, included) {
            if size > entries.whole_bytes {
                self.keep_aside("torn")?;
                self.file.set_len(entries.whole_bytes)?;
            }
            self.last = entries.last().clone();
            self.file.seek(SeekFrom::End(0))?;
            return Ok(entries.steps);
        }
        if size > 0 {
            self.keep_aside("other")?;
        }
        self.file.set_len(0)?;
        self.file.seek(SeekFrom::Start(0))?;
        self.write(&Record::Document(document.to_owned()))?;
        if included.sequence > 0 {
            self.write(&Record::From(included.clone()))?;
        }
        self.last = included.clone();
        Ok(Vec::new())
    }

    /// Copies the journal to a name of its own, because nothing that a person entered is lost.
    fn keep_aside(&self, why: &str) -> io::Result<()> {
        let mut number = 1;
        let mut aside = self.path.with_extension(format!("{why}-{number}"));
        while aside.exists() {
            number += 1;
            aside = self.path.with_extension(format!("{why}-{number}"));
        }
        fs::copy(&self.path, aside).map(|_| ())
    }

    fn write(&mut self, record: &Record) -> io::Result<String> {
        let json = serde_json::to_string(record)?;
        let checksum = checksum_of(&json);
        // One write call, so that a crash leaves either the whole line or a torn tail.
        self.file.write_all(format!("{checksum} {json}\n").as_bytes())?;
        Ok(checksum)
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
