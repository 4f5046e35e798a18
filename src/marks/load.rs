//! Reading marks without editing them.

use std::path::Path;

use super::{
    edit::History,
    entries::{self, changes_left, replay},
    file::{self, Stored},
    merge::merge,
    model::Sheaf,
    state::StateFolder,
};
use crate::store::DocumentError;

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
    let Stored { document, included, past, mut sheaf } = file::read(path)?;
    let Some(journal) = state.map(|state| state.journal_of(path)) else { return Ok((sheaf, None)) };
    let entries = entries::read(&journal)
        .map_err(|source| DocumentError::Unreadable { path: journal.clone(), source })?;
    let told = entries.doubt(&document).map(|damage| damage.told(path, &journal));
    if entries::is_of(&entries, &document, &included) {
        replay(&mut History::default(), &mut sheaf, entries, &included);
    } else if entries.document == document && !past.joined.contains(entries.last()) {
        let highest = sheaf.highest_id();
        let merged = merge(&sheaf, &changes_left(&entries, &past), highest);
        if let Some(edit) = merged.ok().and_then(|merged| merged.edit) {
            edit.apply(&mut sheaf);
        }
    }
    Ok((sheaf, told))
}
