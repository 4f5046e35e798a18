//! Marks files and sidecars that follow their clip to a new name or place.

use std::{
    fs, io,
    path::{Path, PathBuf},
};

use crate::{
    library::consent::sidecar_file::{SidecarFile, sidecar_path},
    library::quick_id::quick_id,
    marks::{self, StateFolder, file::Stored},
    store::{DocumentError, Replacing, replace_file},
};

/// What became of a file that belongs to a moved clip.
#[derive(Debug)]
pub(crate) enum Followed {
    /// It lies beside the clip again, under this name.
    Moved(PathBuf),
    /// It stayed where it was, and why.
    Left(PathBuf, String),
}

/// Moves what was written of the clip `from` beside the clip `to`, which has the same content.
///
/// Nothing is written over: where a file of the new name is there already, the old one stays.
pub(crate) fn follow(from: &Path, to: &Path, state: Option<&StateFolder>) -> Vec<Followed> {
    let mut all = Vec::new();
    let Ok(quick) = quick_id(to) else { return all };
    for old in marks::beside(from) {
        let Ok(stored) = marks::file::read(&old) else { continue };
        let is_of_it = stored.sheaf.clip.as_ref().is_some_and(|clip| clip.quick_id == quick);
        if is_of_it {
            let moved = move_marks(&old, stored, to, state);
            all.push(told(old, moved));
        }
    }
    let old = sidecar_path(from);
    if let Ok(noted) = SidecarFile::open(from)
        && noted.sidecar.clip.as_ref().is_some_and(|clip| clip.quick_id == quick)
    {
        all.push(told(old.clone(), move_sidecar(&old, from, to)));
    }
    all
}

fn told(old: PathBuf, moved: io::Result<PathBuf>) -> Followed {
    match moved {
        Ok(new) => Followed::Moved(new),
        Err(error) => Followed::Left(old, error.to_string()),
    }
}

/// Moves a marks file: written anew first, then its journal, then the old one goes, so that a
/// crash in between leaves two whole files and nothing lost.
fn move_marks(
    old: &Path,
    stored: Stored,
    to: &Path,
    state: Option<&StateFolder>,
) -> io::Result<PathBuf> {
    let routine = stored.sheaf.routine.clone();
    let new = marks::path_for(to, &routine.id, &routine.judge);
    let mut stored = stored;
    if let Some(clip) = &mut stored.sheaf.clip {
        clip.name = to.file_name().unwrap_or_default().to_string_lossy().into_owned();
    }
    let is_same = marks::file::read(&new).is_ok_and(|there| there == stored);
    if !is_same {
        let text = marks::file::text(&stored);
        replace_file(&new, text.as_bytes(), Replacing::Never)?;
    }
    if let Some(state) = state {
        let (journal, moved) = (state.journal_of(old), state.journal_of(&new));
        if journal.exists() && !moved.exists() {
            fs::rename(journal, moved)?;
        }
    }
    fs::remove_file(old)?;
    Ok(new)
}

fn move_sidecar(old: &Path, from: &Path, to: &Path) -> io::Result<PathBuf> {
    let failed = |error: DocumentError| io::Error::other(error.to_string());
    let mut noted = SidecarFile::open(from).map_err(failed)?.sidecar;
    let mut file = SidecarFile::open(to).map_err(failed)?;
    let [was, is] = [from, to].map(|it| it.file_name().unwrap_or_default().to_string_lossy());
    if let Some(clip) = &mut noted.clip {
        clip.name = is.clone().into_owned();
    }
    // The marks that were agreed on were moved along, and are named after the clip.
    for agreed in &mut noted.agreed {
        agreed.rename_clip(&was, &is);
    }
    // As it would be moved: a crash after this may have left both.
    if file.exists() && file.sidecar != noted {
        return Err(io::Error::new(
            io::ErrorKind::AlreadyExists,
            "the clip has a record of its own at its new place; settle which one holds",
        ));
    }
    file.sidecar = noted;
    file.save().map_err(failed)?;
    fs::remove_file(old)?;
    Ok(file.path().to_owned())
}
