//! Reading what judges saw, fetching pictures of it and writing down what they agree on: all of it
//! reads or writes disks.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use iced::widget::image::Handle;

use crate::{
    footage::{Decoder, Footage},
    judged::{Judging, is_watched},
    library::{Draft, Hit, Judges, REFERENCE},
    marks::{self, Routine, StateFolder},
    units::{Orientation, Ticks},
    window::{screens::underway::Underway, viewer::stage::beginning_of, words::sentence},
};

use super::shown::Fetched;

/// Height of a small picture in pixels.
const HEIGHT: u32 = 150;

/// Reads what the judges of a routine saw.
pub(super) fn read(hit: &Hit) -> Result<Arc<Judges>, String> {
    let state = StateFolder::of_user();
    let of_routine = |path: &PathBuf| {
        marks::load(path, state.as_ref())
            .is_ok_and(|sheaf| is_of(&sheaf.routine, hit) && is_watched(&sheaf))
    };
    let beside = hit.clip.as_deref().map(marks::beside).unwrap_or_default();
    let files: Vec<PathBuf> = beside.into_iter().filter(of_routine).collect();
    if files.is_empty() {
        return Err("Nobody has marked this routine yet.".to_owned());
    }
    let judges = Judges::of(&files, &mut Judging::new(state.as_ref()));
    judges.map(Arc::new).map_err(|error| sentence(&error.to_string()))
}

/// Returns whether it is a judge's own of this routine: what was put together of several is none.
fn is_of(routine: &Routine, hit: &Hit) -> bool {
    routine.id == hit.routine && routine.judge != REFERENCE
}

/// Takes a judge's answer into the reference that is put together.
pub(super) fn settle(
    judges: &Judges,
    draft: &Draft,
    (row, place): (usize, usize),
) -> Result<Arc<Draft>, String> {
    let settled = judges.settle(draft, row, place);
    settled.map(Arc::new).map_err(|error| format!("{}.", sentence(&error.to_string())))
}

/// Writes down that all agree on the reference that was put together.
pub(super) fn agree_on_draft(judges: &Judges, draft: &Draft) -> Result<String, String> {
    let state = StateFolder::of_user().ok_or("There is no folder for the journal of marks.")?;
    let record = judges.agree_on_draft(draft, &Judging::new(Some(&state)), &state);
    record
        .map(|_| format!("Agreed on what was put together, kept as {REFERENCE}."))
        .map_err(|error| sentence(&error.to_string()))
}

/// Writes down that all agree on one judge's marks.
pub(super) fn agree(judges: &Judges, place: usize) -> Result<String, String> {
    let version = judges.marks.get(place).ok_or("there is no such judge")?;
    let record = judges.agree_on(version, &Judging::new(StateFolder::of_user().as_ref()));
    let said = match judges.codes.as_slice() {
        [only] => format!("What {only} saw is the reference."),
        codes => format!("Agreed on what {} saw.", codes[place]),
    };
    record.map(|_| said).map_err(|error| sentence(&error.to_string()))
}

/// Writes down that one judge's marks are the reference.
pub(super) fn refer_to(judges: &Judges, place: usize) -> Result<String, String> {
    let version = judges.marks.get(place).ok_or("there is no such judge")?;
    let state = StateFolder::of_user();
    let alone = Judges::of(std::slice::from_ref(version), &mut Judging::new(state.as_ref()));
    agree(&alone.map_err(|error| sentence(&error.to_string()))?, 0)
}

/// Fetches small pictures of a clip; nothing where that was stopped.
pub(super) fn fetch(
    clip: &Path,
    (footage, turn): (Option<Footage>, Option<Orientation>),
    instants: &[Ticks],
    underway: &Underway,
) -> Result<Option<Fetched>, String> {
    let stop = &|| underway.is_stopped();
    let footage = if let Some(footage) = footage {
        footage
    } else {
        let opened = beginning_of(clip).map_err(|error| sentence(&error.to_string()))?;
        let told = |proving| underway.proving("The clip", proving);
        let Some(proved) = opened.proved_telling(stop, &told) else {
            let why = "The clip cannot be read to its end.".to_owned();
            return if underway.is_stopped() { Ok(None) } else { Err(why) };
        };
        proved
    };
    let mut decoder = Decoder::new(&footage, 1);
    let mut pictures = Vec::new();
    for &ticks in instants {
        if underway.is_stopped() {
            return Ok(None);
        }
        let picture = decoder.picture(footage.table().at(ticks));
        let small = picture.map_err(|error| sentence(&error.to_string()))?.to_small(HEIGHT, turn);
        let (width, height) = small.dimensions();
        pictures.push((ticks, Handle::from_rgba(width, height, small.into_raw())));
    }
    drop(decoder);
    Ok(Some(Fetched { footage, pictures }))
}
