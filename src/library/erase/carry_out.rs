//! Carrying a plan out, step by step. What cannot be done is named, and the rest goes on.

use std::{
    collections::BTreeSet,
    fs, io,
    path::{Path, PathBuf},
};

use super::{
    close::{close, close_meanwhile},
    error::EraseError,
    forget::{forget_handed_out, forget_made, forget_rows, forget_searches, take_in},
    log::EraseLog,
    names::{clip_of_record, name},
    plan::{ErasePlan, Unreached},
    recent::forget_recent,
    set_looks::{SetLeft, without},
    step::{EraseStep, ErasedFrom, Going},
    tombstone::Tombstone,
    wish::{EraseHands, EraseWish, Places},
};
use crate::{
    library::quick_id::quick_id,
    marks::StateFolder,
    store::{Replacing, TEMPORARY, is_in_use, read_text, replace_file},
};

/// Carries every step out, each written down before it is done. Returns what could not be done.
pub(crate) fn carry_out(
    places: Places<'_>,
    plan: &ErasePlan,
    log: &mut EraseLog,
    hands: &mut dyn EraseHands,
) -> Result<Vec<Unreached>, EraseError> {
    let mut done = Carried { places, plan, hands, failed: Vec::new() };
    for step in &plan.steps {
        if !done.hands.goes_on() {
            return Err(EraseError::Stopped);
        }
        log.doing(step)?;
        if !done.hands.goes_on() {
            return Err(EraseError::Stopped);
        }
        if let Err(what) = done.step(step) {
            log.failed(&what)?;
            done.failed.push(what);
        }
    }
    Ok(done.failed)
}

/// Tries once more what was out of reach; returns whether anything of it is in reach by now.
pub(crate) fn is_in_reach(
    places: Places<'_>,
    plan: &ErasePlan,
    waits: &[Unreached],
    hands: &mut dyn EraseHands,
) -> bool {
    let mut tried = Carried { places, plan, hands, failed: waits.to_vec() };
    let waiting = |path: &Path| waits.iter().find(|what| what.path == path && what.tries_again);
    let again =
        plan.steps.iter().filter(|step| step.path().is_some_and(|it| waiting(it).is_some()));
    let steps: Vec<&EraseStep> = again.collect();
    let was_step = |path: &Path| steps.iter().any(|step| step.path() == Some(path));
    // Whether a folder is there can be asked; for anything else it takes another look.
    let others = waits.iter().filter(|what| what.tries_again && !was_step(&what.path));
    let is_away =
        |what: &Unreached| places.shelf.folders.contains(&what.path) && !what.path.is_dir();
    let is_there = others.into_iter().any(|what| !is_away(what));
    steps.iter().any(|step| tried.step(step).is_ok()) || is_there
}

struct Carried<'a, 'h> {
    places: Places<'a>,
    plan: &'a ErasePlan,
    hands: &'h mut dyn EraseHands,
    failed: Vec<Unreached>,
}

impl Carried<'_, '_> {
    fn step(&mut self, step: &EraseStep) -> Result<(), Unreached> {
        match step {
            EraseStep::Tell { file } => {
                let Some(word) = Tombstone::of(self.plan) else { return Ok(()) };
                word.leave(file).map_err(|error| named(file, &error))
            }
            EraseStep::Close { clip, routines } => {
                let Some(code) = self.plan.wish.code() else { return Ok(()) };
                if !clip.exists() {
                    return Ok(());
                }
                close(clip, code, routines).map_err(|error| named(clip, &error))
            }
            EraseStep::Unlink { what, path, quick_id } => self.unlink(*what, path, quick_id),
            EraseStep::TakeOutOfSet { set } => self.take_out_of(set),
            EraseStep::ForgetHistory { marks, journal } => {
                if let (Some(marks), Some(state)) = (marks, self.places.state) {
                    check_closed(marks, Some(state)).map_err(|error| named(marks, &error))?;
                    if journal.exists() {
                        take_in(marks, state).map_err(|error| named(marks, &error))?;
                    }
                }
                self.unlink(Going::History, journal, "")
            }
            EraseStep::Forget(list) => {
                self.forget(*list).map_err(|error| named(self.places.home.path(), &error))
            }
        }
    }

    fn unlink(&mut self, what: Going, path: &Path, id: &str) -> Result<(), Unreached> {
        let Ok(facts) = fs::symlink_metadata(path) else { return Ok(()) };
        let has_changed = || quick_id(path).is_ok_and(|now| now != id);
        if !id.is_empty() && !facts.is_symlink() && has_changed() {
            // Something else lies there by now; a new look tells what it is.
            return Ok(());
        }
        if what == Going::Record {
            self.check_clip_is_gone(path)?;
        }
        if what == Going::Marks {
            check_closed(path, self.places.state).map_err(|error| named(path, &error))?;
        }
        match self.hands.unlink(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                if what == Going::Clip && matches!(self.plan.wish, EraseWish::Athlete { .. }) {
                    // Where not even that can be written, it is named all the same.
                    let _ = close_meanwhile(path);
                }
                return Err(refused(path, &error));
            }
            _ => {}
        }
        if let Some(folder) = path.parent().filter(|folder| name(folder).starts_with(TEMPORARY)) {
            // It goes with the last file in it.
            let _ = fs::remove_dir(folder);
        }
        Ok(())
    }

    /// Records go last: as long as a clip is there, what is noted of it stays.
    fn check_clip_is_gone(&self, record: &Path) -> Result<(), Unreached> {
        let clip = clip_of_record(record).unwrap_or_default();
        match self.failed.iter().find(|what| what.path == clip) {
            Some(_) => Err(Unreached {
                path: record.to_owned(),
                why: "its clip is still there".to_owned(),
                remedy: "it goes with the clip".to_owned(),
                tries_again: true,
            }),
            None => Ok(()),
        }
    }

    fn take_out_of(&mut self, set: &Path) -> Result<(), Unreached> {
        let text = match read_text(set) {
            Ok(text) => text,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
            Err(error) => return Err(refused(set, &error)),
        };
        let files: BTreeSet<&Path> = self.plan.files().collect();
        let left = without(&text, |clip, hash| {
            self.plan.look_goes(&|path| files.contains(path), set, (clip, hash))
        });
        match left {
            SetLeft::Whole => Ok(()),
            SetLeft::Nothing => self.unlink(Going::Page, set, ""),
            SetLeft::Text(text) => replace_file(set, text.as_bytes(), Replacing::Allowed)
                .map_err(|error| refused(set, &error)),
        }
    }

    fn forget(&mut self, list: ErasedFrom) -> Result<(), EraseError> {
        let places = self.places;
        match (list, self.plan.wish.code()) {
            (ErasedFrom::Made, _) => forget_made(places, self.plan),
            (ErasedFrom::Recent, _) => {
                let Some(state) = places.state else { return Ok(()) };
                let tells = |path: &str| self.plan.is_told_by(path);
                forget_recent(state, &tells)
                    .map_err(|source| EraseError::Io { path: state.path().to_owned(), source })
            }
            (ErasedFrom::HandedOut, Some(code)) => forget_handed_out(places, self.plan, code),
            (ErasedFrom::Searches, Some(code)) => forget_searches(places, code),
            (ErasedFrom::Index, _) => Ok(forget_rows(places.index, self.plan)?),
            (_, None) => Ok(()),
        }
    }
}

/// Fails where a window has the marks file open: it would write it anew.
pub(crate) fn check_closed(path: &Path, state: Option<&StateFolder>) -> Result<(), EraseError> {
    let is_open = state.is_some_and(|state| is_in_use(&state.journal_of(path)));
    if is_open { Err(EraseError::Open { path: path.to_owned() }) } else { Ok(()) }
}

fn named(path: &Path, error: &dyn std::error::Error) -> Unreached {
    unreached(path.to_owned(), error.to_string())
}

fn refused(path: &Path, error: &io::Error) -> Unreached {
    unreached(path.to_owned(), format!("the system refuses ({error})"))
}

fn unreached(path: PathBuf, why: String) -> Unreached {
    let remedy = "see that nothing has it open and that this user may change the file and its \
                  folder; the next command of the library tries again";
    Unreached { path, why, remedy: remedy.to_owned(), tries_again: true }
}
