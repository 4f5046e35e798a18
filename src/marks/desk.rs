//! A marks file at work: the sheaf, its history, its journal and its file kept in step.

use std::{
    io,
    path::{Path, PathBuf},
    sync::{Arc, Mutex},
};

use super::{
    desk_error::DeskError,
    edit::{Edit, History, Step},
    entries::replay,
    file::{self, Included, Past, Stored},
    ids::IdRoom,
    journal::{Journal, OpenJournal},
    model::{Id, Sheaf},
    saving::{OnDisk, Saved, Saving},
    state::StateFolder,
    version::{self, Version},
};
use crate::store::{DocumentError, Replacing};

/// Marks being edited.
#[derive(Debug)]
pub struct Desk {
    pub(super) path: PathBuf,
    pub(super) document: String,
    pub(super) sheaf: Sheaf,
    pub(super) history: History,
    pub(super) journal: Journal,
    /// What each step of the journal changed, and the number of the step before the first.
    pub(super) effects: (u64, Vec<Edit>),
    /// Which other versions the journal joined, and after which of its steps.
    pub(super) joined_at: Vec<(Included, u64)>,
    /// Hashes of what was set aside and is settled.
    pub(super) settled: Vec<String>,
    room: IdRoom,
    /// Highest of its ids that was ever used, also by what was undone.
    pub(super) highest_id: Id,
    /// The last journal entry that the file contains.
    saved: Included,
    pub(super) past: Past,
    /// The file as this desk last read or wrote it.
    pub(super) on_disk: Arc<Mutex<OnDisk>>,
    /// A version that the next save writes over and keeps aside.
    pub(super) to_keep: Option<Vec<u8>>,
    /// What is to be told of the journal and of other versions.
    pub(super) told: Vec<String>,
}

impl Desk {
    /// Opens a marks file, replays what its journal holds beyond it, and joins other versions of
    /// it: what was entered here and is not in the file any more, and those that lie beside it.
    pub fn open(path: &Path, state: &StateFolder) -> Result<Self, DeskError> {
        // Whoever else may have begun these marks has the first ids.
        let number = u16::from_str_radix(&file::random_name(path)[..4], 16).unwrap_or_default();
        Self::open_as(path, state, IdRoom::of(number.max(1)))
    }

    fn open_as(path: &Path, state: &StateFolder, room: IdRoom) -> Result<Self, DeskError> {
        let Version { stored, held, .. } = Version::read(path)?;
        let others = version::beside(path, &stored);
        let opened = Journal::open(&state.journal_of(path), &stored, room)?;
        let Stored { document, included, mut past, mut sheaf } = stored;
        let OpenJournal { journal, entries, left, lost } = opened;
        let told = lost.iter().map(|(damage, aside)| damage.told(path, aside)).collect();
        let (joined_at, settled) = (entries.joined.clone(), entries.settled.clone());
        let joined = joined_at.iter().map(|(step, _)| step);
        let joined = joined.filter(|step| !past.joined.contains(step));
        let joined: Vec<Included> = joined.cloned().collect();
        past.joined.extend(joined);
        let mut history = History::default();
        let (from, room) = (entries.begins_after(), entries.room);
        for entry in entries.steps.iter().filter(|it| it.place.sequence > included.sequence) {
            past.trail.push(&entry.place);
        }
        let effects = (from, replay(&mut history, &mut sheaf, entries, &included));
        let highest_id = room.highest(sheaf.ids().chain(history.ids()));
        let on_disk = OnDisk { held, sequence: included.sequence };
        let mut desk = Self {
            path: path.to_owned(),
            document,
            sheaf,
            history,
            journal,
            effects,
            joined_at,
            settled,
            room,
            highest_id,
            saved: included,
            past,
            on_disk: Arc::new(Mutex::new(on_disk)),
            to_keep: None,
            told,
        };
        if let Some(left) = left {
            desk.join_left(&left)?;
        }
        for other in &others {
            desk.join(other)?;
        }
        Ok(desk)
    }

    /// Writes a new marks file and opens it.
    ///
    /// The file is there before the first mark, so that a folder that cannot be written to is
    /// found out before anything is entered.
    pub fn create(path: &Path, sheaf: Sheaf, state: &StateFolder) -> Result<Self, DeskError> {
        let stored = Stored::anew(file::random_name(path), sheaf);
        match file::write(path, &file::text(&stored), Replacing::Never) {
            Err(DocumentError::Unwritable { source, .. })
                if source.kind() == io::ErrorKind::AlreadyExists =>
            {
                Err(DeskError::Exists { path: path.to_owned() })
            }
            written => {
                written?;
                Self::open_as(path, state, IdRoom::of(0))
            }
        }
    }

    /// Returns the marks as they stand.
    pub fn sheaf(&self) -> &Sheaf {
        &self.sheaf
    }

    /// Returns the marks file's path.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Returns what is to be told of the journal and of other versions, one sentence each.
    pub fn told(&self) -> &[String] {
        &self.told
    }

    /// Returns an id that was never used here.
    pub fn fresh_id(&mut self) -> Id {
        loop {
            self.highest_id = Id(self.highest_id.0.saturating_add(1));
            if self.sheaf.ids().all(|id| id != self.highest_id) {
                return self.highest_id;
            }
        }
    }

    /// Takes one step: into the journal first, then into the marks. Returns whether there was
    /// anything to undo or redo.
    pub fn take(&mut self, step: Step) -> Result<bool, DeskError> {
        let possible = match &step {
            Step::Do(edit) => {
                let used = edit.ids().into_iter().chain([self.highest_id]);
                self.highest_id = self.room.highest(used);
                true
            }
            Step::Undo => self.history.can_undo(),
            Step::Redo => self.history.can_redo(),
        };
        if possible {
            self.journal.append(&step)?;
            self.past.trail.push(self.journal.last());
            let edit = self.history.note(step).unwrap_or(Edit::Together(Vec::new()));
            edit.apply(&mut self.sheaf);
            self.effects.1.push(edit);
        }
        Ok(possible)
    }

    /// Returns whether something can be undone.
    pub fn can_undo(&self) -> bool {
        self.history.can_undo()
    }

    /// Returns whether the file lags behind the marks.
    pub fn is_dirty(&self) -> bool {
        *self.journal.last() != self.saved
    }

    /// Writes the marks into the file. Another version that somebody wrote there meanwhile is
    /// joined with them; anything else is not written over.
    pub fn save(&mut self) -> Result<(), DeskError> {
        let saved = match self.begin_save().write() {
            Err(DeskError::OtherVersion(theirs)) => {
                self.join(&theirs)?;
                self.begin_save().write()
            }
            written => written,
        }?;
        self.finish_save(saved);
        Ok(())
    }

    /// Returns a save of the marks as they stand.
    pub(crate) fn begin_save(&self) -> Saving {
        Saving {
            path: self.path.clone(),
            stored: self.stored(),
            on_disk: Arc::clone(&self.on_disk),
            keep: self.to_keep.clone().map(|bytes| (self.journal.path().to_owned(), bytes)),
        }
    }

    /// Takes note of a save that was carried out; of one of other marks, nothing.
    pub(crate) fn finish_save(&mut self, saved: Saved) {
        if saved.document == self.document && saved.included.sequence > self.saved.sequence {
            self.saved = saved.included;
            self.to_keep = None;
        }
    }

    /// Returns what a file of these marks holds.
    pub(super) fn stored(&self) -> Stored {
        Stored {
            document: self.document.clone(),
            included: self.journal.last().clone(),
            past: self.past.clone(),
            sheaf: self.sheaf.clone(),
        }
    }

    /// Returns the marks as they stood after the step of this number, where the journal reaches
    /// back to it.
    pub(super) fn after(&self, step: u64) -> Option<Sheaf> {
        let (from, effects) = &self.effects;
        let later = effects.get(usize::try_from(step.checked_sub(*from)?).ok()?..)?;
        let mut sheaf = self.sheaf.clone();
        for edit in later.iter().rev() {
            edit.inverse().apply(&mut sheaf);
        }
        Some(sheaf)
    }
}
