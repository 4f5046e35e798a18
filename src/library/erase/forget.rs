//! Taking what goes out of the library's own lists, and out of undo histories.

use std::{
    collections::BTreeSet,
    fs, io,
    path::{Path, PathBuf},
};

use super::{error::EraseError, plan::ErasePlan, wish::Places};
use crate::{
    library::{
        consent::code::Code,
        home::{
            ledger::{FileKind, HandedOut, Ledger, LedgerEntry, Made},
            shelf::Shelf,
        },
        index::{
            database::{Index, IndexError},
            rows,
        },
    },
    marks::{self, StateFolder, file::Stored},
    store::{DocumentError, Replacing, read_file},
};

/// Takes out of the list of what was made whatever is gone, and whatever stays but is no longer
/// hers. A line of a file that is still to go stays until it has.
pub(crate) fn forget_made(places: Places<'_>, plan: &ErasePlan) -> Result<(), EraseError> {
    let mut ledger = Ledger::<Made>::open(places.home)?;
    let mut lines = ledger.lines()?;
    let before = lines.len();
    let going: BTreeSet<&Path> = plan.files().collect();
    let is_hers = |made: &Made| plan.wish.code().is_some_and(|code| code.is(&made.athlete));
    lines.retain(|made| {
        let is_there = fs::symlink_metadata(&made.path).is_ok();
        if going.contains(made.path.as_path()) && made.kind != FileKind::Set {
            return is_there;
        }
        let is_gone = !is_there && plan.erases(&made.clip);
        let is_set = made.kind == FileKind::Set && (!is_there || plan.erases(&made.clip));
        !is_hers(made) && !is_gone && !is_set
    });
    if lines.len() < before || is_named(&mut ledger, plan)? {
        ledger.replace(&lines)?;
    }
    Ok(())
}

/// Returns whether half a line, as a crash leaves it, still names her.
fn is_named<T: LedgerEntry>(ledger: &mut Ledger<T>, plan: &ErasePlan) -> Result<bool, EraseError> {
    plan.wish.code().map_or(Ok(false), |code| Ok(ledger.names(code)?))
}

/// Takes her code out of the list of what was handed out.
pub(crate) fn forget_handed_out(
    places: Places<'_>,
    plan: &ErasePlan,
    code: &Code,
) -> Result<(), EraseError> {
    let mut ledger = Ledger::<HandedOut>::open(places.home)?;
    let mut lines = ledger.lines()?;
    let is_hers = |athlete: &String| code.is(athlete);
    let mut concerned = false;
    for line in lines.iter_mut().filter(|line| line.athletes.iter().any(is_hers)) {
        concerned = true;
        line.athletes.retain(|athlete| !is_hers(athlete));
        line.withdrawn += 1;
        if code.is_in(line.to.as_bytes()) {
            line.to.clear();
        }
        if code.is_in(line.path.as_os_str().as_encoded_bytes()) {
            line.path.clear();
        }
    }
    if concerned || is_named(&mut ledger, plan)? {
        ledger.replace(&lines)?;
    }
    Ok(())
}

/// Takes the searches that name her out of those that are kept.
pub(crate) fn forget_searches(places: Places<'_>, code: &Code) -> Result<(), EraseError> {
    let mut shelf = Shelf::read(places.home)?;
    let before = shelf.searches.len();
    shelf
        .searches
        .retain(|name, query| !code.is_in(name.as_bytes()) && !code.is_in(query.as_bytes()));
    if shelf.searches.len() < before {
        shelf.write(places.home)?;
    }
    Ok(())
}

/// Takes what is gone out of the index, and her out of every row, and writes it anew.
pub(crate) fn forget_rows(index: &Index, plan: &ErasePlan) -> Result<(), IndexError> {
    for path in plan.files().filter(|path| fs::symlink_metadata(path).is_err()) {
        let path = path.to_string_lossy();
        rows::forget_marks(index, &path)?;
        index.change("DELETE FROM clips WHERE path = ?1", [path])?;
    }
    let Some(code) = plan.wish.code() else { return Ok(()) };
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

/// Writes into a marks file what its journal holds beyond it, so that the journal can go.
pub(crate) fn take_in(path: &Path, state: &StateFolder) -> Result<(), EraseError> {
    let document = match marks::file::read(path) {
        Err(DocumentError::Unreadable { source, .. })
            if source.kind() == io::ErrorKind::NotFound =>
        {
            return Ok(());
        }
        read => read?.document,
    };
    let sheaf = marks::load(path, Some(state))?;
    // Of which no other version brings back what is to be forgotten.
    let stored = Stored::copy_of(&document, sheaf);
    Ok(marks::file::write(path, &marks::file::text(&stored), Replacing::Allowed)?)
}

/// Returns files in which a code still occurs, in their names or their bytes: below the library's
/// own folders everything but the plans that are not finished, below its clips everything but the
/// clips.
pub(crate) fn where_left(places: Places<'_>, files: &[PathBuf], code: &Code) -> Vec<PathBuf> {
    let is_own = |path: &Path| {
        path.starts_with(places.home.path())
            || places.state.is_some_and(|state| path.starts_with(state.path()))
    };
    let is_left = |path: &&PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy();
        let written = ["json", "html", "toml", "csv", "txt"];
        let ending = path.extension().unwrap_or_default().to_string_lossy().to_lowercase();
        let is_read = is_own(path) || written.contains(&ending.as_str());
        code.is_in(name.as_bytes())
            || (is_read && read_file(path).is_ok_and(|bytes| code.is_in(&bytes)))
    };
    let mut left: Vec<PathBuf> = files.iter().filter(is_left).cloned().collect();
    left.sort();
    left.dedup();
    left
}
