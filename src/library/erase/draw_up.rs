//! Drawing up a plan: from a fresh look through the folders, and from what the library's lists and
//! index tell of files elsewhere.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    belongings::Belongings,
    draft::Draft,
    error::EraseError,
    plan::{ErasePlan, Unreached},
    seek::Sighted,
    shown::shown_on,
    tombstone::random,
    wish::{EraseWish, Places, Witnessed},
};
use crate::library::home::{day::today, ledger::FileKind};

/// Returns what erasing will do. `earlier` is what a plan for the same knew before, when the files
/// that told it were still there.
pub(crate) fn draw_up(
    places: Places<'_>,
    wish: &EraseWish,
    witnessed: &Witnessed,
    earlier: Option<&ErasePlan>,
) -> Result<ErasePlan, EraseError> {
    let belongings = Belongings::read(places)?;
    let mut sighted = look(places, wish);
    // Excerpts may lie anywhere; the list of what was made tells where.
    for made in belongings.made.iter().filter(|made| made.kind == FileKind::Clip) {
        sighted.beside(&made.path, places.state);
    }
    if let EraseWish::Clip { path, .. } = wish {
        sighted.beside(path, places.state);
    }
    let shown = shown_on(&sighted, places.index)?;
    let mut draft = Draft {
        places,
        sighted: &sighted,
        belongings: &belongings,
        shown: &shown,
        plan: ErasePlan {
            id: earlier.map_or_else(|| random()[..16].to_owned(), |plan| plan.id.clone()),
            wish: wish.clone(),
            witnessed: witnessed.clone(),
            on: earlier.map_or_else(today, |plan| plan.on),
            contents: earlier.map(|plan| plan.contents.clone()).unwrap_or_default(),
            closed: earlier.map(|plan| plan.closed.clone()).unwrap_or_default(),
            closed_clips: Vec::new(),
            written: earlier.map(|plan| plan.written.clone()).unwrap_or_default(),
            steps: Vec::new(),
            stays: Vec::new(),
            handed_out: earlier.map(|plan| plan.handed_out.clone()).unwrap_or_default(),
            unreached: sighted.unseen.clone(),
        },
        unlink: BTreeMap::new(),
        steps: BTreeSet::new(),
    };
    if let Some(earlier) = earlier {
        // What a person has to see to is named once her marks are gone, too.
        let named = earlier.unreached.iter().filter(|what| !what.tries_again).cloned();
        draft.plan.unreached.extend(named);
    }
    draft.choose()?;
    draft.excerpts();
    draft.clips();
    draft.marks_and_records();
    draft.made();
    draft.handed_out();
    draft.sets();
    draft.written();
    draft.histories();
    draft.lists()?;
    Ok(draft.finish())
}

/// Looks through the library's folders, and through marks that are kept for clips elsewhere.
fn look(places: Places<'_>, wish: &EraseWish) -> Sighted {
    let mut sighted = Sighted::default();
    for folder in &places.shelf.folders {
        if folder.is_dir() {
            sighted.below(folder, places.state);
        } else {
            sighted.unseen.push(Unreached {
                path: folder.clone(),
                why: "the folder is not there".to_owned(),
                remedy: "plug the disk in; the next command of the library looks through it"
                    .to_owned(),
                tries_again: true,
            });
        }
    }
    if let Some(marks) = places.state.map(|state| state.path().join("marks"))
        && marks.is_dir()
    {
        sighted.below(&marks, places.state);
    }
    if !matches!(wish, EraseWish::Athlete { .. }) {
        for unseen in &mut sighted.unseen {
            unseen.tries_again = false;
        }
    }
    sighted
}
