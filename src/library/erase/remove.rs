//! Deleting a clip with everything that was made of it.

use std::{
    collections::BTreeSet,
    fs, io,
    path::{Path, PathBuf},
};

use crate::{
    library::{
        consent::{
            ask::today,
            sidecar_file::{copies, sidecar_path},
        },
        home::{
            folder::Home,
            ledger::{Deletion, FileKind, Ledger, Made},
        },
        index::{
            database::{Index, IndexError},
            thumbs::thumb_path,
        },
        quick_id::quick_id,
    },
    marks::{self, StateFolder},
    store::{LogError, is_in_use, open_file},
    units,
};

/// Who deletes, and who looks on.
#[derive(Clone, Debug)]
pub struct Witnessed {
    /// Who deletes, by role or code.
    pub by: String,
    /// Who witnesses it: somebody else.
    pub witness: String,
}

/// Whether marks and numbers outlive their clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Marks {
    /// They are kept; they hold codes and numbers, no pictures.
    Keep,
    /// They go as well, with their undo history.
    Delete,
}

/// Whether what was cut from a clip outlives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Excerpts {
    /// It stays: the clip was cut so that only its excerpts are kept.
    Keep,
    /// It goes as well.
    Delete,
}

/// Why something could not be deleted.
#[derive(Debug, thiserror::Error)]
pub enum RemoveError {
    /// Nobody else looks on.
    #[error("deleting needs a witness other than \"{by}\": a second adult who looks on")]
    NoWitness {
        /// Who deletes.
        by: String,
    },
    /// The file is open in a window.
    #[error("{path} is open in a window of this program. Close it, then delete again")]
    Open {
        /// The marks file.
        path: PathBuf,
    },
    /// The system refused.
    #[error("cannot delete {path}: {source}. What was deleted before stays deleted; run it again")]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A list of what was made, handed out or deleted could not be changed.
    #[error(transparent)]
    List(#[from] LogError),
    /// The index could not be brought up to date.
    #[error(transparent)]
    Index(#[from] IndexError),
}

/// What was deleted.
#[derive(Debug, Default)]
pub struct Removed {
    /// Files that are gone.
    pub files: Vec<PathBuf>,
    /// Quick ids of clips that are gone.
    pub clips: Vec<String>,
}

/// What deleting works with.
#[derive(Clone, Copy, Debug)]
pub struct Places<'a> {
    /// The library's own folder.
    pub home: &'a Home,
    /// The index.
    pub index: &'a Index,
    /// Where journals are.
    pub state: Option<&'a StateFolder>,
}

/// Deletes a clip: the file, its record, and every still, sheet and export that the program made of
/// it; its marks and excerpts cut from it as asked. Logs who deleted and who witnessed.
pub fn delete(
    places: Places<'_>,
    clip: &Path,
    (keep, cut): (Marks, Excerpts),
    witnessed: &Witnessed,
) -> Result<Removed, RemoveError> {
    check_witness(witnessed)?;
    let mut removed = Removed::default();
    take_away(places, clip, (keep, cut), &mut removed)?;
    log(places.home, &removed, "deleted", (keep, witnessed))?;
    Ok(removed)
}

pub(crate) fn check_witness(witnessed: &Witnessed) -> Result<(), RemoveError> {
    let [by, witness] = [&witnessed.by, &witnessed.witness].map(|who| who.trim().to_lowercase());
    if by.is_empty() || witness.is_empty() || by == witness {
        return Err(RemoveError::NoWitness { by: witnessed.by.clone() });
    }
    Ok(())
}

/// Writes into the log of deletions what went.
pub(crate) fn log(
    home: &Home,
    removed: &Removed,
    why: &str,
    (keep, witnessed): (Marks, &Witnessed),
) -> Result<(), RemoveError> {
    let deletion = Deletion {
        on: today(),
        by: witnessed.by.clone(),
        witness: witnessed.witness.clone(),
        why: why.to_owned(),
        clips: removed.clips.clone(),
        files: removed.files.len(),
        kept_marks: keep == Marks::Keep,
    };
    Ledger::open(home)?.add(&deletion)?;
    Ok(())
}

/// Deletes a clip and what belongs to it.
pub(crate) fn take_away(
    places: Places<'_>,
    clip: &Path,
    (keep, cut): (Marks, Excerpts),
    removed: &mut Removed,
) -> Result<(), RemoveError> {
    let quick =
        quick_id(clip).map_err(|source| RemoveError::Io { path: clip.to_owned(), source })?;
    let all_marks = marks_of(places.index, clip, &quick)?;
    if keep == Marks::Delete {
        for path in &all_marks {
            check_closed(path, places.state)?;
        }
    }
    if cut == Excerpts::Delete {
        for excerpt in excerpts(places, clip, &quick)? {
            take_away(places, &excerpt, (keep, cut), removed)?;
        }
    }
    erase_made(places.home, &|made| made.clip == quick, removed)?;
    erase(&thumb_path(places.home, &quick), removed)?;
    if keep == Marks::Delete {
        for path in &all_marks {
            delete_marks(path, places.state, removed)?;
        }
    }
    for path in copies(clip).iter().chain([&sidecar_path(clip)]) {
        erase(path, removed)?;
    }
    erase(clip, removed)?;
    if !removed.clips.contains(&quick) {
        removed.clips.push(quick);
    }
    places.index.change("DELETE FROM clips WHERE path = ?1", [clip.to_string_lossy()])?;
    Ok(())
}

/// Deletes a marks file with its journal, everything that was set aside of it, and copies that a
/// sync client laid beside it.
pub(crate) fn delete_marks(
    path: &Path,
    state: Option<&StateFolder>,
    removed: &mut Removed,
) -> Result<(), RemoveError> {
    if let Some(state) = state {
        for journal in journals_of(&state.journal_of(path)) {
            erase(&journal, removed)?;
        }
    }
    for copy in marks::copies_of(path) {
        erase(&copy, removed)?;
    }
    erase(path, removed)
}

/// Returns a journal and what was set aside of it.
fn journals_of(journal: &Path) -> Vec<PathBuf> {
    let stem = journal.file_stem().unwrap_or_default().to_owned();
    let folder = journal.parent().unwrap_or(Path::new("."));
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let paths = entries.map(|entry| entry.path());
    let mut found: Vec<PathBuf> =
        paths.filter(|path| path.file_stem().unwrap_or_default() == stem).collect();
    found.sort();
    found
}

/// Fails where a window has the marks file open: it would write it anew.
pub(crate) fn check_closed(path: &Path, state: Option<&StateFolder>) -> Result<(), RemoveError> {
    let Some(state) = state else { return Ok(()) };
    if is_in_use(&state.journal_of(path)) {
        return Err(RemoveError::Open { path: path.to_owned() });
    }
    Ok(())
}

/// Deletes one file; one that is gone already is no failure.
pub(crate) fn erase(path: &Path, removed: &mut Removed) -> Result<(), RemoveError> {
    match fs::remove_file(path) {
        Ok(()) => {
            removed.files.push(path.to_owned());
            Ok(())
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(source) => Err(RemoveError::Io { path: path.to_owned(), source }),
    }
}

/// Deletes the files that were made and that `is_meant` names, then takes them out of the list:
/// in this order, so that a crash in between leaves no file that nobody knows of.
///
/// A clip that was cut out is taken away like any other clip, with all that was made of it.
pub(crate) fn erase_made(
    home: &Home,
    is_meant: &dyn Fn(&Made) -> bool,
    removed: &mut Removed,
) -> Result<(), RemoveError> {
    let mut ledger = Ledger::<Made>::open(home)?;
    let lines = ledger.lines()?;
    let is_meant = |made: &&Made| made.kind != FileKind::Clip && is_meant(made);
    let meant: BTreeSet<PathBuf> =
        lines.iter().filter(is_meant).map(|made| made.path.clone()).collect();
    for path in &meant {
        erase(path, removed)?;
    }
    // A page of several routines is gone for all of them.
    let is_gone = |made: &Made| {
        meant.contains(&made.path) || (made.kind == FileKind::Clip && !made.path.exists())
    };
    let others: Vec<Made> = lines.iter().filter(|made| !is_gone(made)).cloned().collect();
    if others.len() < lines.len() {
        ledger.replace(&others)?;
    }
    Ok(())
}

/// Returns the clips that were cut out, wherever they were written, and are still there.
pub(crate) fn cut_out(
    home: &Home,
    is_meant: &dyn Fn(&Made) -> bool,
) -> Result<BTreeSet<PathBuf>, RemoveError> {
    let lines = Ledger::<Made>::open(home)?.lines()?;
    let is_meant = |made: &Made| made.kind == FileKind::Clip && is_meant(made);
    let paths = lines.into_iter().filter(is_meant).map(|made| made.path);
    // The index names clips by their whole path.
    Ok(paths.filter_map(|path| path.canonicalize().ok()).collect())
}

/// Returns the marks files of a clip: those beside it and those of the same content elsewhere.
fn marks_of(index: &Index, clip: &Path, quick: &str) -> Result<BTreeSet<PathBuf>, IndexError> {
    let is_of_it = |path: &PathBuf| {
        let stored = marks::file::read(path).ok();
        let of = stored.and_then(|stored| stored.sheaf.clip).map(|of| of.quick_id);
        of.is_none_or(|of| of == quick)
    };
    let beside = marks::beside(clip).into_iter().filter(is_of_it);
    let another: Option<i64> = index.one(
        "SELECT count(*) FROM clips WHERE quick_id = ?1 AND path <> ?2",
        rusqlite::params![quick, clip.to_string_lossy()],
    )?;
    // Marks elsewhere belong to the other copy as long as there is one.
    let elsewhere: Vec<String> = if another.unwrap_or_default() == 0 {
        let sql = "SELECT marks FROM routines WHERE quick_id = ?1 AND marks IS NOT NULL";
        index.list_with(sql, [quick], |row| row.get(0))?
    } else {
        Vec::new()
    };
    Ok(beside.chain(elsewhere.into_iter().map(PathBuf::from)).collect())
}

/// Returns the clips that were cut from this one: those in the library by their records, those
/// elsewhere by the list of what was made.
fn excerpts(
    Places { index, home, .. }: Places<'_>,
    clip: &Path,
    quick: &str,
) -> Result<BTreeSet<PathBuf>, RemoveError> {
    let known: Option<Option<String>> =
        index.one("SELECT content_hash FROM clips WHERE path = ?1", [clip.to_string_lossy()])?;
    let hash = match known.flatten() {
        Some(hash) => hash,
        None => open_file(clip)
            .and_then(|mut file| units::content_hash(&mut file))
            .map_err(|source| RemoveError::Io { path: clip.to_owned(), source })?,
    };
    let sql = "SELECT path FROM clips WHERE taken_from = ?1";
    let paths: Vec<String> = index.list_with(sql, [hash], |row| row.get(0))?;
    let paths = paths.into_iter().map(PathBuf::from).filter(|path| path.exists());
    let elsewhere = cut_out(home, &|made| made.clip == quick)?;
    Ok(paths.chain(elsewhere).filter(|excerpt| excerpt != clip).collect())
}
