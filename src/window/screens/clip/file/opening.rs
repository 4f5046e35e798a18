//! Opening a clip with the marks that lie beside it.

use std::path::{Path, PathBuf};

use super::wanted::{First, Wanted};
use crate::{
    marks::{self, Kin, Sheaf, StateFolder},
    window::{
        memory::{LastRoutine, clicks, marks_of},
        screens::clip::{
            Clip, Complaint, Remedy, Session, beside::Likeness, routine::known::routines_of,
        },
        viewer::{arrived::Arrived, stage::Stage},
        words::sentence,
    },
};

/// What came of it.
pub(crate) enum Opening {
    /// The clip screen.
    Clip(Box<Clip>),
    /// It could not be opened, and why.
    Failed(String),
    /// Marks were to be opened, and their clip is not where it was; what to do about it.
    ClipOfMarksGone(String),
}

/// Opens a clip and its marks. Slow: not for the thread of the window.
pub(crate) fn open(wanted: &Wanted, shown: Option<PathBuf>, last: LastRoutine) -> Opening {
    open_like(wanted, shown, last, None)
}

/// Opens a clip that is to lie beside another, with the routine that goes best with `like`.
pub(crate) fn open_beside(clip: PathBuf, like: &Likeness) -> Opening {
    let wanted = Wanted::of(clip, None);
    open_like(&wanted, None, LastRoutine::default(), Some(like))
}

fn open_like(
    wanted: &Wanted,
    shown: Option<PathBuf>,
    last: LastRoutine,
    like: Option<&Likeness>,
) -> Opening {
    if is_marks(&wanted.clip) && wanted.marks.is_none() {
        return match clip_of_marks(&wanted.clip) {
            Ok(clip) => {
                let marks = Some(wanted.clip.clone());
                open_like(&Wanted { clip, marks, ..wanted.clone() }, shown, last, like)
            }
            Err(opening) => opening,
        };
    }
    let arrived = Arrived::default();
    let signal = arrived.clone();
    let stage = match Stage::open(&wanted.clip, move || signal.signal()) {
        Ok(stage) => stage,
        Err(error) => return Opening::Failed(sentence(&error.to_string())),
    };
    let found = marks_of(&wanted.clip);
    let marks = wanted.marks.clone().or_else(|| only(&found));
    let (session, complaint) = match marks {
        // Marks that cannot be read do not keep anybody from watching the clip.
        Some(marks) => match Session::open(&marks, shown.clone(), arrived.clone()) {
            Ok(session) => {
                let doubt = session.sheaf().and_then(|sheaf| doubt(sheaf, &stage));
                (session, doubt)
            }
            Err(error) => (
                Session::empty(shown, arrived.clone()),
                Some(Complaint::new(sentence(&error.to_string()))),
            ),
        },
        None => (Session::empty(shown, arrived.clone()), None),
    };
    let mut clip = Clip::new(stage, arrived, session)
        .complaining(complaint)
        .with_last(last)
        .with_clicks(clicks());
    clip.routines = routines_of(&wanted.clip);
    match wanted.first {
        First::OfClip => {}
        First::Measured => clip.go_to_measured(),
        First::At(ticks) => clip.go_to_instant(ticks),
    }
    if let Some(other) = like {
        clip.open_routine_like(other);
    } else if wanted.marks.is_none() && found.len() > 1 {
        clip.show_routines();
    }
    Opening::Clip(Box::new(clip))
}

fn is_marks(path: &Path) -> bool {
    path.to_string_lossy().ends_with(".marks.json")
}

fn clip_of_marks(path: &Path) -> Result<PathBuf, Opening> {
    let sheaf = marks::load(path, StateFolder::of_user().as_ref())
        .map_err(|error| Opening::Failed(sentence(&error.to_string())))?;
    let Some(clip) = &sheaf.clip else {
        let name = path.display();
        return Err(Opening::Failed(format!(
            "{name} is a planned routine without a clip. \"stillcall score\" shows its sheet."
        )));
    };
    let beside = path.with_file_name(&clip.name);
    if beside.exists() {
        return Ok(beside);
    }
    Err(Opening::ClipOfMarksGone(format!(
        "The clip of these marks, {}, is not in their folder any more. Open it where it is now; \
         it may have another name.",
        clip.name
    )))
}

/// Returns what to tell when the marks were made on another file.
fn doubt(sheaf: &Sheaf, stage: &Stage) -> Option<Complaint> {
    let (then, now) = (sheaf.clip.as_ref()?, stage.clip_facts());
    if then.quick_id.is_empty() || marks::kin(then, &now) == Kin::Same {
        return None;
    }
    let text = format!(
        "These marks were made on another file, {}. If this is a copy of the same recording, move \
         them here: by their times, or, where its beginning was cut, go to the frame on which a \
         line of the paper should lie.",
        then.name
    );
    Some(Complaint::new(text).with(&[Remedy::MoveByTime, Remedy::MoveChosenHere]))
}

fn only(paths: &[PathBuf]) -> Option<PathBuf> {
    match paths {
        [path] => Some(path.clone()),
        _ => None,
    }
}
