//! Finding out what would go, and erasing it; both read disks.

use crate::{
    library::{
        self, EraseError, ErasePlan, EraseWish, Index, IndexError, Places, Shelf, Witnessed,
    },
    marks::StateFolder,
    window::{
        screens::library::jobs::{Kept, there},
        words::sentence,
    },
};

use super::{carrying::Carrying, outcome::EraseOutcome};

/// Returns what would go.
pub(super) fn plan(
    kept: &Kept,
    wish: &EraseWish,
    witnessed: &Witnessed,
) -> Result<ErasePlan, String> {
    with_places(kept, |places| library::plan_erasing(places, wish, witnessed))
}

/// Erases.
pub(super) fn carry_out(
    kept: &Kept,
    (wish, witnessed): (&EraseWish, &Witnessed),
    carrying: &Carrying,
) -> Result<EraseOutcome, String> {
    let mut hands = carrying.clone();
    with_places(kept, |places| {
        match library::erase_after_all(places, wish, witnessed, &mut hands) {
            Ok((erased, others)) => Ok(EraseOutcome::of(&erased, &others)),
            Err(EraseError::Stopped) => Ok(EraseOutcome::stopped()),
            Err(error) => Err(error),
        }
    })
}

/// Does something with the library; a broken index is made anew, once.
fn with_places<T>(
    kept: &Kept,
    mut work: impl FnMut(Places<'_>) -> Result<T, EraseError>,
) -> Result<T, String> {
    let home = there(kept).map_err(|error| error.to_string())?;
    let mut once = || -> Result<T, EraseError> {
        let (shelf, index) = (Shelf::read(home)?, Index::open(home)?);
        let state = StateFolder::of_user();
        work(Places { home, shelf: &shelf, index: &index, state: state.as_ref() })
    };
    let worked = match once() {
        Err(EraseError::Index(IndexError::Damaged { .. })) => {
            Index::discard(home).map_err(EraseError::from).and_then(|()| once())
        }
        worked => worked,
    };
    worked.map_err(|error| format!("{}.", sentence(&error.to_string())))
}
