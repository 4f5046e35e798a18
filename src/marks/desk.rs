//! A marks file at work: the sheaf, its history, its journal and its file kept in step.

use std::{
    io,
    path::{Path, PathBuf},
    sync::{Arc, Mutex, PoisonError},
};

use super::{
    damage::Damage,
    edit::{History, Step},
    file::{self, FORMAT, Included, Stored},
    journal::{self, Journal, JournalError, OpenJournal},
    model::{Id, Sheaf},
    state::StateFolder,
};
use crate::store::{DocumentError, Held, Replacing};

/// Why marks could not be opened, changed or saved.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The marks file.
    #[error(transparent)]
    File(#[from] DocumentError),
    /// The journal.
    #[error(transparent)]
    Journal(#[from] JournalError),
    /// The file on disk is no longer the one that was opened.
    #[error(
        "{path} was changed by another program while it was open here. Nothing was overwritten: \
         save under another name, or close and open it again"
    )]
    ChangedOutside {
        /// The file.
        path: PathBuf,
    },
    /// A new marks file would have written over an old one.
    #[error("{path} is there already. Open it instead, or choose another judge code")]
    Exists {
        /// The file.
        path: PathBuf,
    },
}

/// Marks being edited.
#[derive(Debug)]
pub struct Desk {
    path: PathBuf,
    document: String,
    sheaf: Sheaf,
    history: History,
    journal: Journal,
    /// Highest id ever used, also by what was undone.
    highest_id: Id,
    /// The last journal entry that the file contains.
    saved: Included,
    /// The file as this desk last read or wrote it.
    on_disk: Arc<Mutex<OnDisk>>,
    /// What is to be told of the journal.
    told: Vec<String>,
}

/// What is known of the file on disk; shared with saves that are under way.
#[derive(Debug)]
struct OnDisk {
    /// Its bytes.
    held: Held,
    /// Sequence number of the last journal entry in it.
    sequence: u64,
}

/// A save that can be carried out on another thread, while the marks are changed further.
#[derive(Debug)]
pub struct Saving {
    path: PathBuf,
    stored: Stored,
    on_disk: Arc<Mutex<OnDisk>>,
}

/// A save that was carried out.
#[derive(Clone, Debug)]
pub struct Saved {
    document: String,
    included: Included,
}

impl Desk {
    /// Opens a marks file and replays what its journal holds beyond it.
    pub fn open(path: &Path, state: &StateFolder) -> Result<Self, DeskError> {
        let (bytes, held) = FORMAT.read(path)?;
        let Stored { document, included, mut sheaf } = file::parse(&bytes, path)?;
        let opened = Journal::open(&state.journal_of(path), &document, &included)?;
        let OpenJournal { journal, steps, lost } = opened;
        let told = lost.iter().map(|(damage, aside)| tell(path, damage, aside)).collect();
        let mut history = History::default();
        replay(&mut history, &mut sheaf, steps, &included);
        let highest_id = sheaf.highest_id().max(history.highest_id());
        let on_disk = OnDisk { held, sequence: included.sequence };
        let (path, on_disk) = (path.to_owned(), Arc::new(Mutex::new(on_disk)));
        let saved = included;
        Ok(Self { path, document, sheaf, history, journal, highest_id, saved, on_disk, told })
    }

    /// Writes a new marks file and opens it.
    ///
    /// The file is there before the first mark, so that a folder that cannot be written to is
    /// found out before anything is entered.
    pub fn create(path: &Path, sheaf: Sheaf, state: &StateFolder) -> Result<Self, DeskError> {
        let document = random_name(path);
        let stored = Stored { document, included: Included::default(), sheaf };
        match file::write(path, &file::text(&stored), Replacing::Never) {
            Err(DocumentError::Unwritable { source, .. })
                if source.kind() == io::ErrorKind::AlreadyExists =>
            {
                Err(DeskError::Exists { path: path.to_owned() })
            }
            written => {
                written?;
                Self::open(path, state)
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

    /// Returns what is to be told of the journal, one sentence each.
    pub fn told(&self) -> &[String] {
        &self.told
    }

    /// Returns an id that was never used here.
    pub fn fresh_id(&mut self) -> Id {
        self.highest_id = Id(self.highest_id.0 + 1);
        self.highest_id
    }

    /// Takes one step: into the journal first, then into the marks. Returns whether there was
    /// anything to undo or redo.
    pub fn take(&mut self, step: Step) -> Result<bool, DeskError> {
        let possible = match step {
            Step::Do(_) => true,
            Step::Undo => self.history.can_undo(),
            Step::Redo => self.history.can_redo(),
        };
        if possible {
            self.journal.append(&step)?;
            self.history.take(step, &mut self.sheaf);
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

    /// Writes the marks into the file, unless somebody else changed it meanwhile.
    pub fn save(&mut self) -> Result<(), DeskError> {
        let saved = self.begin_save().write()?;
        self.finish_save(saved);
        Ok(())
    }

    /// Returns a save of the marks as they stand.
    pub(crate) fn begin_save(&self) -> Saving {
        let stored = Stored {
            document: self.document.clone(),
            included: self.journal.last().clone(),
            sheaf: self.sheaf.clone(),
        };
        Saving { path: self.path.clone(), stored, on_disk: Arc::clone(&self.on_disk) }
    }

    /// Takes note of a save that was carried out; of one of other marks, nothing.
    pub(crate) fn finish_save(&mut self, saved: Saved) {
        if saved.document == self.document && saved.included.sequence > self.saved.sequence {
            self.saved = saved.included;
        }
    }
}

impl Saving {
    /// Writes the file, unless somebody else changed it meanwhile.
    pub fn write(self) -> Result<Saved, DeskError> {
        let Self { path, stored, on_disk } = self;
        let saved = Saved { document: stored.document.clone(), included: stored.included.clone() };
        // One save at a time; an older one must not undo what a newer one wrote.
        let mut on_disk = on_disk.lock().unwrap_or_else(PoisonError::into_inner);
        if saved.included.sequence < on_disk.sequence {
            return Ok(saved);
        }
        let written = FORMAT.write(&path, &file::text(&stored), &mut on_disk.held);
        written.map_err(|error| match error {
            DocumentError::Changed { path, .. } => DeskError::ChangedOutside { path },
            other => other.into(),
        })?;
        on_disk.sequence = saved.included.sequence;
        Ok(saved)
    }
}

/// Reads a marks file and what its journal holds beyond it, without editing: the command line
/// sees what the screen shows.
pub fn load(path: &Path, state: Option<&StateFolder>) -> Result<Sheaf, DocumentError> {
    load_and_tell(path, state).map(|(sheaf, _)| sheaf)
}

/// Does as [`load`], and returns too what is to be told of the journal.
pub fn load_and_tell(
    path: &Path,
    state: Option<&StateFolder>,
) -> Result<(Sheaf, Option<String>), DocumentError> {
    let Stored { document, included, mut sheaf } = file::read(path)?;
    let Some(journal) = state.map(|state| state.journal_of(path)) else { return Ok((sheaf, None)) };
    let entries = journal::read(&journal)
        .map_err(|source| DocumentError::Unreadable { path: journal.clone(), source })?;
    let doubt = entries.doubt(&document, &included);
    let told = doubt.map(|damage| tell(path, &damage, &journal));
    if journal::is_of(&entries, &document, &included) {
        replay(&mut History::default(), &mut sheaf, entries.steps, &included);
    }
    Ok((sheaf, told))
}

fn tell(path: &Path, damage: &Damage, kept: &Path) -> String {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    format!("{name}: {damage}. All of it is kept in {}", kept.display())
}

/// Walks through the steps: those that the file contains only fill the history, those beyond
/// also change the marks.
fn replay(
    history: &mut History,
    sheaf: &mut Sheaf,
    steps: Vec<journal::JournalEntry>,
    included: &Included,
) {
    for entry in steps {
        if entry.place.sequence <= included.sequence {
            history.note(entry.step);
        } else {
            history.take(entry.step, sheaf);
        }
    }
}

/// Returns a name that no other document has: place, time and process together.
fn random_name(path: &Path) -> String {
    let mut hasher = blake3::Hasher::new();
    hasher.update(path.as_os_str().as_encoded_bytes());
    hasher.update(&std::process::id().to_le_bytes());
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    hasher.update(&now.unwrap_or_default().as_nanos().to_le_bytes());
    hasher.finalize().to_hex()[..16].to_owned()
}
