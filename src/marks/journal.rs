//! The journal: every change is appended here before it is shown, so that a crash loses nothing
//! and undo survives a restart.
//!
//! One line per step: a checksum, a space, the step as JSON. A line whose checksum is wrong, or
//! whose number is out of turn, ends the journal, because later steps lean on earlier ones.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::{
    damage::Damage,
    edit::{Edit, History, Step},
    file::{Included, Past, Stored},
    merge::Changes,
    model::{ClipFacts, Sheaf},
    trail::Trail,
};
use crate::store::{
    Begin, Keeping, Lock, Log, LogError, LogLine, Readers, about_to_read, checked_lines,
};

/// A step is with the system before it is shown; the disk may take its time.
const KEEPING: Keeping =
    Keeping { checked: true, lock: Lock::Refused, synced: false, readers: Readers::User };

/// What a journal holds.
#[derive(Debug, Default)]
pub struct Entries {
    /// The document it belongs to.
    pub document: String,
    /// What the marks file contained when the journal was begun; on another computer, or after
    /// the file was moved, that may be many steps, which this journal never held.
    from: Included,
    /// The clip of its marks when it was begun.
    clip: Option<ClipFacts>,
    /// The last step of each other version that was joined.
    pub joined: Vec<Included>,
    /// Its steps with their checksums, in order.
    pub steps: Vec<JournalEntry>,
    /// Length in bytes of what counts.
    whole_bytes: usize,
    /// Why the rest does not.
    damage: Option<Damage>,
    /// The steps in the rest that can still be read.
    pub after: Vec<Step>,
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

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Record {
    Document(String),
    /// Follows the document where its file already contained steps.
    From(Included),
    /// Follows them where the marks are of a clip.
    Clip(Box<ClipFacts>),
    /// Another version was joined that ended with this step.
    Joined(Included),
    Step {
        sequence: u64,
        step: Step,
    },
}

/// Reads a journal; a missing one is empty.
pub fn read(path: &Path) -> io::Result<Entries> {
    about_to_read(path);
    match fs::read(path) {
        Ok(bytes) => Ok(parse(&bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Entries::default()),
        Err(error) => Err(error),
    }
}

fn parse(bytes: &[u8]) -> Entries {
    let mut entries = Entries::default();
    let mut lines = checked_lines(bytes).zip(1..);
    while let Some((line, number)) = lines.next() {
        let end = line.map(|line| line.end);
        let Err(wrong) = line.ok_or(Wrong::Damaged).and_then(|line| entries.take(line)) else {
            entries.whole_bytes = end.unwrap_or(entries.whole_bytes);
            continue;
        };
        let rest: Vec<_> = lines.map(|(line, _)| line).collect();
        let after = rest.iter().flatten().count();
        // A whole line whose number is out of turn holds a step as well.
        let readable = line.into_iter().chain(rest.iter().copied().flatten());
        entries.after = readable.filter_map(|line| step_in(line)).collect();
        entries.damage = Some(match wrong {
            Wrong::Damaged if rest.is_empty() => Damage::TornEnd,
            Wrong::Damaged => Damage::Spoilt { line: number, after },
            Wrong::Strange => Damage::Strange { line: number, after },
            Wrong::Number { expected, found } => Damage::Gap { expected, found, after },
        });
        break;
    }
    entries
}

fn step_in(line: LogLine<'_>) -> Option<Step> {
    match serde_json::from_str(line.json).ok()? {
        Record::Step { step, .. } => Some(step),
        _ => None,
    }
}

/// Why a line does not go on with those before it.
enum Wrong {
    Damaged,
    Strange,
    Number { expected: u64, found: u64 },
}

impl Entries {
    /// Returns the steps that led to the marks with all entries, as far as they are known here.
    pub fn trail(&self) -> Trail {
        let mut trail = Trail::from(&self.from);
        self.steps.iter().for_each(|entry| trail.push(&entry.place));
        trail
    }

    /// Returns the number of the last step before its first.
    pub fn begins_after(&self) -> u64 {
        self.from.sequence
    }

    /// Returns the last step that the marks contain with all entries.
    pub fn last(&self) -> &Included {
        self.steps.last().map_or(&self.from, |entry| &entry.place)
    }

    /// Returns why not all of it counts for marks of `document` that include `included`.
    pub(crate) fn doubt(&self, document: &str) -> Option<Damage> {
        let is_other = self.whole_bytes > 0 && self.document != document;
        self.damage.clone().or(is_other.then_some(Damage::OtherDocument))
    }

    fn take(&mut self, line: LogLine<'_>) -> Result<(), Wrong> {
        match serde_json::from_str(line.json).map_err(|_| Wrong::Strange)? {
            Record::Document(document) if self.whole_bytes == 0 => self.document = document,
            Record::From(from) if self.steps.is_empty() => self.from = from,
            Record::Clip(clip) if self.steps.is_empty() => self.clip = Some(*clip),
            Record::Joined(joined) => self.joined.push(joined),
            Record::Step { sequence: found, step } => {
                let expected = self.last().sequence.saturating_add(1);
                // The last number there is has none after it.
                if found != expected || self.last().sequence == u64::MAX {
                    return Err(Wrong::Number { expected, found });
                }
                let place = Included { sequence: found, checksum: line.checksum.to_owned() };
                self.steps.push(JournalEntry { place, step });
            }
            _ => return Err(Wrong::Strange),
        }
        Ok(())
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
    /// Opens or begins the journal of the marks in a file.
    ///
    /// A journal that grew from another document, or not from the file that includes
    /// `included`, is set aside and a new one begun.
    pub fn open(
        path: &Path,
        Stored { document, included, sheaf, .. }: &Stored,
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
        if let Some(clip) = &sheaf.clip {
            log.append(&Record::Clip(Box::new(clip.clone())))?;
        }
        let journal = Self { log, last: included.clone() };
        let left = Some(entries).filter(|entries| entries.document == *document);
        let entries = Entries { from: included.clone(), ..Entries::default() };
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

    /// Returns its file.
    pub fn path(&self) -> &Path {
        self.log.path()
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
    let before = entries.from.sequence.checked_add(1);
    let place = before.and_then(|before| included.sequence.checked_sub(before));
    let entry = place.and_then(|place| entries.steps.get(place as usize));
    entry.is_some_and(|entry| entry.place == *included)
}

/// Walks through the steps: those that the file contains only fill the history, those beyond
/// also change the marks. Returns what each of them changed.
pub(crate) fn replay(
    history: &mut History,
    sheaf: &mut Sheaf,
    entries: Entries,
    included: &Included,
) -> Vec<Edit> {
    let mut effects = Vec::new();
    for entry in entries.steps {
        let edit = history.note(entry.step).unwrap_or(Edit::Together(Vec::new()));
        if entry.place.sequence > included.sequence {
            edit.apply(sheaf);
        }
        effects.push(edit);
    }
    effects
}

/// Returns what a journal holds beyond the file that was changed elsewhere.
pub(crate) fn changes_left(left: &Entries, past: &Past) -> Changes {
    let common = past.trail.parted(&left.trail());
    let from = common.map_or(0, |step| step.saturating_sub(left.begins_after()));
    let steps: Vec<Step> = left.steps.iter().map(|entry| entry.step.clone()).collect();
    let changes = Changes::of(&steps, usize::try_from(from).unwrap_or(usize::MAX));
    changes.on(Changes::of(&steps, 0).clip.or_else(|| left.clip.clone()))
}
