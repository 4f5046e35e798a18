//! An athlete withdraws: one action over everything that the program keeps of her.

use std::{
    collections::BTreeSet,
    fs,
    path::{Path, PathBuf},
};

use crate::{
    library::{
        consent::{ask::filmed, code::Code, sidecar::Others, sidecar_file::SidecarFile},
        home::{
            ledger::{HandedOut, Ledger, Made},
            shelf::{Shelf, ShelfError},
        },
        index::{database::IndexError, rows, thumbs::thumb_path},
        quick_id::quick_id,
    },
    marks::{self, StateFolder, file::Stored},
    store::{DocumentError, Replacing, read_file},
};

use super::remove::{
    Excerpts, Marks, Places, RemoveError, Removed, Witnessed, check_closed, check_witness, cut_out,
    delete_marks, erase, erase_made, log, take_away,
};

/// Of her nothing stays.
const EVERYTHING: (Marks, Excerpts) = (Marks::Delete, Excerpts::Delete);

/// What to do with a clip on which others are filmed as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shared {
    /// It stays, closed for every use but watching, until somebody cuts or covers it.
    Close,
    /// It goes, with everything of the others on it.
    Delete,
}

/// Why a withdrawal could not be carried out to its end.
#[derive(Debug, thiserror::Error)]
pub enum WithdrawError {
    /// Something could not be deleted.
    #[error(transparent)]
    Remove(#[from] RemoveError),
    /// A record could not be changed.
    #[error(transparent)]
    Sidecar(#[from] DocumentError),
    /// The list of folders and searches could not be changed.
    #[error(transparent)]
    Shelf(#[from] ShelfError),
}

/// What a withdrawal did.
#[derive(Debug, Default)]
pub struct Withdrawal {
    /// What is gone.
    pub removed: Removed,
    /// Clips that still show her beside others.
    pub closed: Vec<PathBuf>,
    /// Bundles handed out that hold something of her, for somebody to write to.
    pub handed_out: Vec<HandedOut>,
}

/// What a withdrawal would touch.
#[derive(Debug, Default)]
pub struct Touched {
    /// Clips on which only she is filmed.
    pub own: Vec<PathBuf>,
    /// Clips on which others are filmed as well.
    pub shared: Vec<PathBuf>,
    /// Her marks files, wherever they lie.
    pub marks: BTreeSet<PathBuf>,
}

/// Returns what a withdrawal would touch. The index has to be up to date.
pub fn touched(places: Places<'_>, code: &Code) -> Result<Touched, RemoveError> {
    let index = places.index;
    let paths: Vec<String> = index.list_with(
        "SELECT path FROM clips WHERE id IN (SELECT clip FROM filmed WHERE athlete = ?1)
             OR id IN (SELECT clip FROM routines WHERE athlete = ?1) ORDER BY path",
        [code.as_str()],
        |row| row.get(0),
    )?;
    let marks: Vec<String> = index.list_with(
        "SELECT marks FROM routines WHERE athlete = ?1 AND marks IS NOT NULL",
        [code.as_str()],
        |row| row.get(0),
    )?;
    let mut touched =
        Touched { marks: marks.into_iter().map(PathBuf::from).collect(), ..Touched::default() };
    for path in paths {
        let others: Option<i64> = index.one(
            "SELECT count(*) FROM (
                 SELECT athlete FROM filmed WHERE clip = (SELECT id FROM clips WHERE path = ?1)
                 UNION SELECT athlete FROM routines
                     WHERE clip = (SELECT id FROM clips WHERE path = ?1) AND athlete <> '')
             WHERE athlete <> ?2 COLLATE NOCASE",
            [path.as_str(), code.as_str()],
        )?;
        let is_own = others.unwrap_or_default() == 0;
        if is_own { &mut touched.own } else { &mut touched.shared }.push(PathBuf::from(path));
    }
    let is_hers = |athlete: &str| athlete.eq_ignore_ascii_case(code.as_str());
    for path in cut_out(places.home, &|made| is_hers(&made.athlete))? {
        if touched.own.contains(&path) || touched.shared.contains(&path) {
            continue;
        }
        // It lies outside the library: its record and its marks alone tell who is on it.
        let is_own = filmed(&path).iter().all(|athlete| is_hers(athlete));
        touched.marks.extend(marks_of_her(&path, code));
        if is_own { &mut touched.own } else { &mut touched.shared }.push(path);
    }
    Ok(touched)
}

/// Deletes everything of an athlete: her clips, records, marks with their undo history, stills,
/// sheets and exports, and her code in the program's own lists.
///
/// The index has to be up to date. Backups, the system's trash and copies on other devices are
/// out of reach.
pub fn withdraw(
    places: Places<'_>,
    code: &Code,
    shared: Shared,
    witnessed: &Witnessed,
) -> Result<Withdrawal, WithdrawError> {
    check_witness(witnessed)?;
    let touched = touched(places, code)?;
    for path in &touched.marks {
        check_closed(path, places.state)?;
    }
    let mut done = Withdrawal::default();
    // What was cut from a clip is gone with it already.
    for clip in touched.own.iter().filter(|clip| clip.exists()) {
        take_away(places, clip, EVERYTHING, &mut done.removed)?;
    }
    for clip in touched.shared.iter().filter(|clip| clip.exists()) {
        if shared == Shared::Delete {
            take_away(places, clip, EVERYTHING, &mut done.removed)?;
        } else {
            close(clip, code)?;
            if let Ok(quick) = quick_id(clip) {
                erase(&thumb_path(places.home, &quick), &mut done.removed)?;
            }
            done.closed.push(clip.clone());
        }
    }
    for path in &touched.marks {
        delete_marks(path, places.state, &mut done.removed)?;
    }
    let is_hers = |athlete: &str| athlete.eq_ignore_ascii_case(code.as_str());
    erase_made(places.home, &|made| is_hers(&made.athlete), &mut done.removed)?;
    forget_made(places, &|made| is_hers(&made.athlete))?;
    forget_history(places, code, &mut done.removed)?;
    done.handed_out = forget_handed_out(places, code)?;
    forget_searches(places, code)?;
    forget_rows(places, code).map_err(RemoveError::from)?;
    log(places.home, &done.removed, "consent withdrawn", (Marks::Delete, witnessed))?;
    Ok(done)
}

/// Takes her out of the record of a clip that shows others as well, and closes it.
fn close(clip: &Path, code: &Code) -> Result<(), DocumentError> {
    let mut file = SidecarFile::begin(clip)?;
    let noted = &mut file.sidecar;
    let hers: Vec<String> = marks_of_her(clip, code)
        .iter()
        .filter_map(|path| marks::file::read(path).ok())
        .map(|stored| stored.sheaf.routine.id)
        .collect();
    noted.athletes.retain(|athlete| !athlete.code.eq_ignore_ascii_case(code.as_str()));
    noted.agreed.retain(|agreed| !hers.contains(&agreed.routine));
    noted.others = Others::Recognisable;
    noted.somebody_withdrew = true;
    for text in [&mut noted.source, &mut noted.notes] {
        if code.is_in(text.as_bytes()) {
            text.clear();
        }
    }
    file.save()
}

/// Returns her marks files beside a clip.
fn marks_of_her(clip: &Path, code: &Code) -> Vec<PathBuf> {
    let is_hers = |path: &PathBuf| {
        marks::file::read(path)
            .is_ok_and(|stored| stored.sheaf.routine.athlete.eq_ignore_ascii_case(code.as_str()))
    };
    marks::beside(clip).into_iter().filter(is_hers).collect()
}

/// Takes lines of clips that stay, because others are on them as well, out of the list.
fn forget_made(places: Places<'_>, is_hers: &dyn Fn(&Made) -> bool) -> Result<(), RemoveError> {
    let mut ledger = Ledger::<Made>::open(places.home)?;
    let mut lines = ledger.lines()?;
    let before = lines.len();
    lines.retain(|made| !is_hers(made));
    if lines.len() < before {
        ledger.replace(&lines)?;
    }
    Ok(())
}

/// Deletes every journal in which her code occurs; what such a journal holds beyond its marks file
/// is written into the file first.
fn forget_history(
    places: Places<'_>,
    code: &Code,
    removed: &mut Removed,
) -> Result<(), RemoveError> {
    let Some(state) = places.state else { return Ok(()) };
    let kept: Vec<String> = places
        .index
        .list("SELECT marks FROM routines WHERE marks IS NOT NULL", |row| row.get(0))?;
    for journal in files_below(&state.path().join("journals")) {
        let Ok(bytes) = read_file(&journal) else { continue };
        if !code.is_in(&bytes) {
            continue;
        }
        let of = kept.iter().map(Path::new).find(|path| state.journal_of(path) == journal);
        if let Some(path) = of.filter(|path| path.exists()) {
            check_closed(path, Some(state))?;
            take_in(path, state)?;
        }
        erase(&journal, removed)?;
    }
    Ok(())
}

/// Writes into a marks file what its journal holds beyond it.
fn take_in(path: &Path, state: &StateFolder) -> Result<(), RemoveError> {
    let failed = |error: DocumentError| RemoveError::Io {
        path: path.to_owned(),
        source: std::io::Error::other(error.to_string()),
    };
    let document = marks::file::read(path).map_err(failed)?.document;
    let sheaf = marks::load(path, Some(state)).map_err(failed)?;
    // Of which no other version brings back what is to be forgotten.
    let stored = Stored::copy_of(&document, sheaf);
    marks::file::write(path, &marks::file::text(&stored), Replacing::Allowed).map_err(failed)
}

/// Returns the bundles that hold something of her, and takes her code out of the list.
fn forget_handed_out(places: Places<'_>, code: &Code) -> Result<Vec<HandedOut>, RemoveError> {
    let mut ledger = Ledger::<HandedOut>::open(places.home)?;
    let mut lines = ledger.lines()?;
    let is_hers = |athlete: &String| athlete.eq_ignore_ascii_case(code.as_str());
    let mut concerned = Vec::new();
    for line in lines.iter_mut().filter(|line| line.athletes.iter().any(is_hers)) {
        concerned.push(line.clone());
        line.athletes.retain(|athlete| !is_hers(athlete));
        line.withdrawn += 1;
        if code.is_in(line.to.as_bytes()) {
            line.to.clear();
        }
        if code.is_in(line.path.as_os_str().as_encoded_bytes()) {
            line.path.clear();
        }
    }
    if !concerned.is_empty() {
        ledger.replace(&lines)?;
    }
    Ok(concerned)
}

fn forget_searches(places: Places<'_>, code: &Code) -> Result<(), ShelfError> {
    let mut shelf = Shelf::read(places.home)?;
    let before = shelf.searches.len();
    shelf
        .searches
        .retain(|name, query| !code.is_in(name.as_bytes()) && !code.is_in(query.as_bytes()));
    if shelf.searches.len() == before { Ok(()) } else { shelf.write(places.home) }
}

/// Takes her out of the index and writes it anew.
fn forget_rows(places: Places<'_>, code: &Code) -> Result<(), IndexError> {
    let index = places.index;
    let ids: Vec<i64> = index.list_with(
        "SELECT id FROM routines WHERE athlete = ?1 OR (marks IS NULL AND clip IS NULL)",
        [code.as_str()],
        |row| row.get(0),
    )?;
    for id in ids {
        rows::forget_routine(index, id)?;
    }
    index.change("DELETE FROM filmed WHERE athlete = ?1", [code.as_str()])?;
    index.change("UPDATE clips SET noted = -1, text = ''", [])?;
    index.wipe()
}

/// Returns files in which a code still occurs, in their names or their bytes: below the library's
/// own folders everything, below its clips everything but the clips.
pub fn where_left(places: Places<'_>, shelf: &Shelf, code: &Code) -> Vec<PathBuf> {
    let own = [Some(places.home.path()), places.state.map(StateFolder::path)];
    let own = own.into_iter().flatten().flat_map(files_below);
    let folders = shelf.folders.iter().flat_map(|folder| files_below(folder));
    let is_left = |path: &PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let written = ["json", "html", "toml", "csv", "txt"];
        let is_own = path.starts_with(places.home.path())
            || places.state.is_some_and(|state| path.starts_with(state.path()));
        let ending = path.extension().unwrap_or_default().to_string_lossy().to_lowercase();
        let is_read = is_own || written.contains(&ending.as_str());
        code.is_in(name.as_bytes())
            || (is_read && read_file(path).is_ok_and(|bytes| code.is_in(&bytes)))
    };
    let mut left: Vec<PathBuf> = own.chain(folders).filter(is_left).collect();
    left.sort();
    left.dedup();
    left
}

/// Returns every file below a folder.
fn files_below(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => found.extend(files_below(&path)),
            _ => found.push(path),
        }
    }
    found
}
