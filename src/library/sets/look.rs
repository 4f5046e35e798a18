//! The clip of a look: there, unchanged, and allowed in this set. Whoever plays a set asks here.

use std::path::{Path, PathBuf};

use crate::{
    library::{
        consent::{
            ask::{NotPermitted, permit},
            gate::{Asked, Use},
            sidecar::{NoSuchWord, Purpose},
        },
        home::day::today,
    },
    practice::set::{Look, Set},
    store::open_file,
    units,
};

/// Why the clip of a look is not played.
#[derive(Debug, thiserror::Error)]
pub enum NotPlayed {
    /// It is not there, or may not be read.
    #[error("The clip {0} is not there")]
    Missing(PathBuf),
    /// It is there with other bytes.
    #[error("The clip {0} is not the one that the set was made with")]
    Changed(PathBuf),
    /// What is noted of it does not allow it.
    #[error(transparent)]
    Refused(#[from] NotPermitted),
    /// The set is for something that nobody can agree to.
    #[error("the set's purpose {0}")]
    Purpose(#[from] NoSuchWord),
}

/// Returns the file of a look's clip where it is there, unchanged, and may be played from the set
/// today. It reads the whole clip where the set names its hash, so not on the window's thread.
pub fn clip_of_look(set_file: &Path, set: &Set, look: &Look) -> Result<PathBuf, NotPlayed> {
    let path = set_file.with_file_name("").join(&look.clip);
    let Ok(mut file) = open_file(&path) else { return Err(NotPlayed::Missing(path)) };
    if !look.clip_hash.is_empty() {
        match units::content_hash(&mut file) {
            Ok(hash) if hash == look.clip_hash => {}
            Ok(_) => return Err(NotPlayed::Changed(path)),
            Err(_) => return Err(NotPlayed::Missing(path)),
        }
    }
    let what = use_in_set(set.purpose.parse()?, set.examination);
    permit(&path, &Asked { what, athletes: &[], routine: &look.routine, today: today() })?;
    Ok(path)
}

/// Returns what being in such a set is to the gate.
pub(crate) const fn use_in_set(purpose: Purpose, examination: bool) -> Use {
    if examination { Use::Examination(purpose) } else { Use::Set(purpose) }
}
