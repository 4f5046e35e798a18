//! Where thumbnails of clips are kept: in the library's own folder, by the content of the clip.

use std::{collections::BTreeSet, fs, path::PathBuf};

use crate::library::home::folder::Home;

use super::database::{Index, IndexError};

const ENDING: &str = "png";

/// Returns where the thumbnail of the clip with this quick id is kept.
pub fn thumb_path(home: &Home, quick_id: &str) -> PathBuf {
    folder(home).join(quick_id).with_extension(ENDING)
}

/// Deletes thumbnails of content that is no longer in the library.
pub(crate) fn prune(home: &Home, index: &Index) -> Result<(), IndexError> {
    let known: Vec<String> =
        index.list("SELECT quick_id FROM clips WHERE quick_id IS NOT NULL", |row| row.get(0))?;
    let known: BTreeSet<PathBuf> = known.iter().map(|id| thumb_path(home, id)).collect();
    for entry in fs::read_dir(folder(home)).into_iter().flatten().flatten() {
        if !known.contains(&entry.path()) {
            // What cannot be deleted now is tried again by the next scan.
            let _ = fs::remove_file(entry.path());
        }
    }
    Ok(())
}

fn folder(home: &Home) -> PathBuf {
    home.path().join("thumbnails")
}
