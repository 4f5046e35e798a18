//! What a journal holds, as far as it can be read.
//!
//! One line per step: a checksum, a space, the step as JSON. A line whose checksum is wrong, or
//! whose number is out of turn, ends the journal, because later steps lean on earlier ones.

use std::{collections::BTreeSet, io, path::Path};

use serde::{Deserialize, Serialize};

use super::{
    damage::Damage,
    edit::{Edit, History, Step},
    file::{Included, Past},
    ids::IdRoom,
    merge::Changes,
    model::{ClipFacts, Id, Sheaf},
    trail::Trail,
};
use crate::store::{LogLine, checked_lines, read_file};

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
    /// The ids that its marks had when it was begun.
    known: BTreeSet<Id>,
    /// The ids that are its own.
    pub room: IdRoom,
    /// The last step of each other version that was joined, and the number of the own step after
    /// which it was.
    pub joined: Vec<(Included, u64)>,
    /// Hashes of what was set aside and of which a person said that it is settled.
    pub settled: Vec<String>,
    /// Its steps with their checksums, in order.
    pub steps: Vec<JournalEntry>,
    /// Length in bytes of what counts.
    pub(super) whole_bytes: usize,
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

/// A line of a journal.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Record {
    Document(String),
    /// Follows the document where its file already contained steps.
    From(Included),
    /// Follows them where the marks are of a clip.
    Clip(Box<ClipFacts>),
    /// Follows them: the ids in use, and after which one new things get theirs.
    Ids {
        known: Vec<Id>,
        after: Id,
    },
    /// Another version was joined that ended with this step.
    Joined(Included),
    /// A person said that what was set aside in a file of this hash is settled.
    Settled(String),
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

pub(super) fn parse(bytes: &[u8]) -> Entries {
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
    /// Returns those of a journal that is just begun.
    pub(super) fn begun(from: Included, known: Vec<Id>, room: IdRoom) -> Self {
        Self { from, known: known.into_iter().collect(), room, ..Self::default() }
    }

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
            Record::Ids { known, after } if self.steps.is_empty() => {
                self.known = known.into_iter().collect();
                self.room = IdRoom { after };
            }
            Record::Joined(joined) => self.joined.push((joined, self.last().sequence)),
            Record::Settled(hash) => self.settled.push(hash),
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
    let known = || left.known.iter().copied();
    let changes = Changes::of(&steps, usize::try_from(from).unwrap_or(usize::MAX), known());
    changes.on(Changes::of(&steps, 0, known()).clip.or_else(|| left.clip.clone()))
}
