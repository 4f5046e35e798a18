//! Writing marks into their file, on whichever thread.

use std::{
    path::PathBuf,
    sync::{Arc, Mutex, PoisonError},
};

use super::{
    desk_error::DeskError,
    file::{self, FORMAT, Included, Stored},
    version::Version,
};
use crate::store::{DocumentError, Held, replace_private};

/// What is known of the file on disk; shared with saves that are under way.
#[derive(Debug)]
pub(super) struct OnDisk {
    /// Its bytes.
    pub held: Held,
    /// Sequence number of the last journal entry in it.
    pub sequence: u64,
}

/// A save that can be carried out on another thread, while the marks are changed further.
#[derive(Debug)]
pub(crate) struct Saving {
    pub(super) path: PathBuf,
    pub(super) stored: Stored,
    pub(super) on_disk: Arc<Mutex<OnDisk>>,
    /// The bytes of a version that this one writes over, to be kept beside the journal first.
    pub(super) keep: Option<(PathBuf, Vec<u8>)>,
}

/// A save that was carried out.
#[derive(Clone, Debug)]
pub(crate) struct Saved {
    pub(super) document: String,
    pub(super) included: Included,
}

impl Saving {
    /// Writes the file, unless somebody else changed it meanwhile.
    pub(crate) fn write(self) -> Result<Saved, DeskError> {
        let Self { path, stored, on_disk, keep } = self;
        let saved = Saved { document: stored.document.clone(), included: stored.included.clone() };
        // One save at a time; an older one must not undo what a newer one wrote.
        let mut on_disk = on_disk.lock().unwrap_or_else(PoisonError::into_inner);
        if saved.included.sequence < on_disk.sequence {
            return Ok(saved);
        }
        if let Some((journal, bytes)) = keep {
            // By its content, so that a save that is tried again keeps it once.
            let name = &blake3::hash(&bytes).to_hex()[..8];
            let aside = journal.with_extension(format!("version-{name}"));
            replace_private(&aside, &bytes).map_err(|source| FORMAT.unwritable(&aside, source))?;
        }
        let written = FORMAT.write(&path, &file::text(&stored), &mut on_disk.held);
        written.map_err(|error| match error {
            DocumentError::Changed { path, .. } => match Version::read(&path) {
                Ok(theirs)
                    if theirs.stored.is_version_of(&stored)
                        && theirs.stored.included.sequence > 0 =>
                {
                    DeskError::OtherVersion(Box::new(theirs))
                }
                _ => DeskError::ChangedOutside { path },
            },
            other => other.into(),
        })?;
        on_disk.sequence = saved.included.sequence;
        Ok(saved)
    }
}
