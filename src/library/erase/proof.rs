//! Looking again, by content and by code, once a plan is carried out.

use std::path::PathBuf;

use super::{
    belongings::files_below,
    draw_up::draw_up,
    erased::Erased,
    error::EraseError,
    forget::where_left,
    log::{self},
    plan::{ErasePlan, Unreached},
    step::EraseStep,
    wish::Places,
};
use crate::{
    library::home::{
        day::today,
        ledger::{Deletion, Ledger},
    },
    marks::StateFolder,
};

/// What a second look found.
#[derive(Debug)]
pub(crate) struct SecondLook {
    /// The plan that would be drawn up now, without what was tried in vain just now.
    pub again: ErasePlan,
    /// How many files were looked at.
    pub looked_at: usize,
    /// Files in which the code of who withdrew still stands.
    pub still_named: Vec<PathBuf>,
}

/// Looks through the folders again.
pub(crate) fn prove(
    places: Places<'_>,
    plan: &ErasePlan,
    failed: &[Unreached],
) -> Result<SecondLook, EraseError> {
    let mut again = draw_up(places, &plan.wish, &plan.witnessed, Some(plan))?;
    again.stays.clone_from(&plan.stays);
    // Links and their targets, and a record and its clip, fail together.
    let was_tried = |step: &EraseStep| {
        step.path().is_some_and(|path| failed.iter().any(|what| what.path == path))
    };
    again.steps.retain(|step| !was_tried(step) && !matches!(step, EraseStep::Forget(_)));
    let mut files: Vec<PathBuf> =
        places.shelf.folders.iter().flat_map(|it| files_below(it)).collect();
    let own = [Some(places.home.path()), places.state.map(StateFolder::path)];
    files.extend(own.into_iter().flatten().flat_map(files_below));
    files.sort();
    files.dedup();
    files.retain(|path| !log::is_log(places.home, path));
    let code = plan.wish.code();
    let still_named = code.map(|code| where_left(places, &files, code)).unwrap_or_default();
    Ok(SecondLook { again, looked_at: files.len(), still_named })
}

/// Writes the proof into the log of deletions, once.
pub(crate) fn write_down(places: Places<'_>, erased: &Erased) -> Result<(), EraseError> {
    let Erased { plan, gone, unreached, still_named, looked_at } = erased;
    let hidden = |text: String| match plan.wish.code() {
        Some(code) => code.hidden_in(&text),
        None => text,
    };
    let left = unreached.iter().map(|what| hidden(what.to_string()));
    let named = still_named.iter().map(|path| hidden(format!("{}: names her", path.display())));
    let deletion = Deletion {
        id: plan.id.clone(),
        on: today(),
        by: plan.witnessed.by.clone(),
        witness: plan.witnessed.witness.clone(),
        why: plan.wish.why().to_owned(),
        clips: clips(plan),
        files: gone.len(),
        kept_marks: plan.wish.keeps_marks(),
        looked_at: *looked_at,
        left: left.chain(named).collect(),
    };
    let mut ledger = Ledger::<Deletion>::open(places.home)?;
    // It may have been written down before it was cut short.
    if !ledger.lines()?.iter().any(|line| line.id == deletion.id) {
        ledger.add(&deletion)?;
    }
    Ok(())
}

/// Returns the quick ids of the clips that went.
fn clips(plan: &ErasePlan) -> Vec<String> {
    let read = plan.contents.iter().filter(|content| !content.hash.is_empty());
    read.map(|content| content.quick_id.clone()).collect()
}
