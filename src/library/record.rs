//! What is noted of a clip, read and written as a whole.

use std::path::Path;

use jiff::civil::Date;

use super::{
    consent::{code::Code, sidecar::Sidecar, sidecar_file::SidecarFile},
    erase::withdrawn::refuse_withdrawn,
    home::{day::today, folder::Home},
};
use crate::store::DocumentError;

/// A record as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadRecord {
    /// What is noted.
    pub noted: Sidecar,
    /// The day on which it was read.
    pub today: Date,
    /// Whether the clip is another file than the one that it was noted of.
    pub is_altered: bool,
}

/// A record cannot be written.
#[derive(Debug, thiserror::Error)]
pub enum RecordError {
    /// The file cannot be read or written.
    #[error(transparent)]
    Document(#[from] DocumentError),
    /// Somebody noted something meanwhile.
    #[error("{0} was noted anew meanwhile. Close this and look at what is noted now")]
    Changed(String),
    /// The clip was altered since.
    #[error("{0} was altered since it was noted. Look at it; if what is noted still holds, say so")]
    Altered(String),
    /// A code is no code, or of somebody who withdrew.
    #[error("{0}")]
    Code(String),
}

/// Reads what is noted of a clip. Slow.
pub fn read_record(clip: &Path) -> Result<ReadRecord, RecordError> {
    let mut file = SidecarFile::open(clip)?;
    let noted = file.sidecar.clone();
    file.tie(clip)?;
    Ok(ReadRecord { today: today(), is_altered: is_altered(&noted, &file.sidecar), noted })
}

/// Writes what is noted of a clip, where it still is what was read. Slow.
pub fn write_record(
    clip: &Path,
    (was, now): (&Sidecar, &Sidecar),
    still_holds: bool,
) -> Result<(), RecordError> {
    let name = || clip.display().to_string();
    for athlete in now.athletes.iter().filter(|it| was.athlete(&it.code) != Some(*it)) {
        let code: Code = athlete.code.parse().map_err(|it| RecordError::Code(format!("{it}")))?;
        refuse_withdrawn(Home::of_user().as_ref(), &code)
            .map_err(|error| RecordError::Code(error.to_string()))?;
    }
    let mut file = SidecarFile::open(clip)?;
    if file.sidecar != *was {
        return Err(RecordError::Changed(name()));
    }
    file.sidecar = now.clone();
    file.tie(clip)?;
    if is_altered(was, &file.sidecar) && !still_holds {
        return Err(RecordError::Altered(name()));
    }
    Ok(file.save()?)
}

fn is_altered(was: &Sidecar, now: &Sidecar) -> bool {
    let id = |noted: &Sidecar| noted.clip.as_ref().map(|clip| clip.quick_id.clone());
    id(was).is_some_and(|was| Some(was) != id(now))
}
