//! The clips that were decoded to their end on this computer, by length and content hash: no name
//! and no place.

use std::{
    io,
    path::{Path, PathBuf},
    sync::{Mutex, PoisonError},
};

use serde::{Deserialize, Serialize};

use crate::{
    footage::KnownClips,
    marks::StateFolder,
    store::{own_folder, read_text, replace_private},
};

/// How many are remembered; the oldest goes first.
const MOST: usize = 500;
/// Whoever learns a clip reads the list, and writes it.
static LEARNING: Mutex<()> = Mutex::new(());

/// The list in the user's state folder. Where it cannot be kept, no clip is known.
#[derive(Debug)]
pub(crate) struct KnownHere(Option<PathBuf>);

#[derive(Default, Serialize, Deserialize)]
struct List {
    /// The newest last.
    clips: Vec<Known>,
}

#[derive(PartialEq, Serialize, Deserialize)]
struct Known {
    bytes: u64,
    hash: String,
}

impl KnownHere {
    /// Returns the user's own list.
    pub(crate) fn of_user() -> Self {
        Self(StateFolder::of_user().map(|state| state.path().join("known-clips.json")))
    }

    /// What cannot be read is as good as nothing.
    fn list(&self) -> List {
        let text = self.0.as_ref().and_then(|file| read_text(file).ok());
        text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default()
    }

    fn try_to_learn(&self, known: Known) -> io::Result<()> {
        let Some(file) = &self.0 else { return Ok(()) };
        let _one_at_a_time = LEARNING.lock().unwrap_or_else(PoisonError::into_inner);
        let mut list = self.list();
        list.clips.retain(|other| *other != known);
        list.clips.push(known);
        let old = list.clips.len().saturating_sub(MOST);
        list.clips.drain(..old);
        own_folder(file.parent().unwrap_or(Path::new(".")))?;
        replace_private(file, serde_json::to_string(&list)?.as_bytes())
    }
}

impl KnownClips for KnownHere {
    fn of_length(&self, bytes: u64) -> Vec<String> {
        let clips = self.list().clips.into_iter();
        clips.filter(|known| known.bytes == bytes).map(|known| known.hash).collect()
    }

    fn learn(&self, bytes: u64, content_hash: &str) {
        let known = Known { bytes, hash: content_hash.to_owned() };
        if let Err(error) = self.try_to_learn(known) {
            tracing::warn!(
                "that a clip was decoded to its end could not be noted ({error}); the next time it \
                 is decoded in a process of its own again"
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn list(folder: &Path) -> KnownHere {
        KnownHere(Some(folder.join("state").join("known-clips.json")))
    }

    #[test]
    fn a_clip_is_known_by_length_and_content() {
        let folder = tempfile::tempdir().unwrap();
        let known = list(folder.path());
        assert!(known.of_length(7).is_empty());
        known.learn(7, "abc");
        known.learn(7, "abc");
        known.learn(7, "def");
        known.learn(8, "ghi");
        // Read anew each time, as by another window.
        assert_eq!(list(folder.path()).of_length(7), ["abc", "def"]);
        assert_eq!(list(folder.path()).of_length(8), ["ghi"]);
    }

    #[test]
    fn the_oldest_is_forgotten_first() {
        let folder = tempfile::tempdir().unwrap();
        let known = list(folder.path());
        for bytes in 0..=MOST as u64 {
            known.learn(bytes, "abc");
        }
        assert!(known.of_length(0).is_empty());
        assert_eq!(
            (1..=MOST as u64).filter(|&bytes| known.of_length(bytes).len() == 1).count(),
            MOST
        );
    }

    #[cfg(unix)]
    #[test]
    fn the_list_is_the_users_alone() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().unwrap();
        list(folder.path()).learn(7, "abc");
        let state = folder.path().join("state");
        let mode = |path: &Path| std::fs::metadata(path).unwrap().permissions().mode() & 0o777;
        assert_eq!((mode(&state), mode(&state.join("known-clips.json"))), (0o700, 0o600));
    }

    #[test]
    fn where_nothing_can_be_kept_no_clip_is_known() {
        let folder = tempfile::tempdir().unwrap();
        // A file where the folder should be.
        std::fs::write(folder.path().join("state"), "").unwrap();
        for known in [list(folder.path()), KnownHere(None)] {
            known.learn(7, "abc");
            assert!(known.of_length(7).is_empty());
        }
    }
}
