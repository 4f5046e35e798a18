//! What the commands share that hand over pictures of a clip: its drawings, and who is on it.

use std::{
    io::{self, Write as _},
    ops::ControlFlow,
    path::Path,
};

use anyhow::{Context as _, ensure};
use stillcall::{
    footage::Footage,
    handout::{Drawings, Ground, Progress, Subject},
    judged::{JudgedError, Judging, Marked},
    library::{Pictures, Purpose},
    marks::StateFolder,
    units::counted,
};

use crate::command::{printed, proving};

/// A clip with what its marks have on its frames.
pub(super) struct Handed {
    pub subject: Subject,
    athlete: String,
    routine: String,
}

impl Handed {
    /// Opens a clip; `marks` turn it where it was turned by hand, and are drawn where that is said.
    pub(super) fn open(clip: &Path, marks: Option<&Path>, drawn: bool) -> anyhow::Result<Self> {
        let footage = proving::open(clip)?;
        let Some(path) = marks else {
            let subject = Subject { footage, drawings: Drawings::default() };
            return Ok(Self { subject, athlete: String::new(), routine: String::new() });
        };
        let state = StateFolder::of_user();
        let mut judging = Judging::under(None, state.as_ref())?;
        let marked = judging.read(path)?;
        let drawings = if drawn {
            super::tell_all(marked.changes())?;
            check(&marked, &footage, clip)?;
            super::warn_of_splits(&marked.sheaf)?;
            drawings(&mut judging, &marked, &footage)?
        } else {
            Drawings::none(marked.sheaf.clip.as_ref().and_then(|clip| clip.orientation_override))
        };
        let routine = marked.sheaf.routine;
        let subject = Subject { footage, drawings };
        Ok(Self { subject, athlete: routine.athlete, routine: routine.id })
    }

    /// Returns what is to be asked before its pictures leave.
    pub(super) fn pictures<'a>(&'a self, clip: &'a Path, purpose: Purpose) -> Pictures<'a> {
        Pictures { clip, purpose, athlete: &self.athlete, routine: &self.routine }
    }
}

/// Tells how many of the frames that are handed over are damaged, and where nothing is drawn on any of
/// them.
pub(super) fn tell(
    subject: &Subject,
    frames: impl Iterator<Item = usize> + Clone,
    drawn: bool,
) -> io::Result<()> {
    let table = subject.footage.table();
    let damaged = frames
        .clone()
        .filter(|k| table.entry(*k).is_some_and(|entry| entry.soundness.says().is_some()));
    let damaged = damaged.count();
    if damaged > 0 {
        writeln!(printed::err(), "{} damaged, or may be", counted(damaged, "frame"))?;
    }
    tell_undrawn(subject, frames, drawn)
}

/// Tells where nothing is drawn on any of these frames although that was wished.
pub(super) fn tell_undrawn(
    subject: &Subject,
    mut frames: impl Iterator<Item = usize>,
    drawn: bool,
) -> io::Result<()> {
    if drawn && frames.all(|k| subject.drawings.on(k).is_empty()) {
        let with: Vec<String> = subject.drawings.frames().map(|k| k.to_string()).collect();
        let with = if with.is_empty() { "none".to_owned() } else { with.join(", ") };
        writeln!(
            printed::err(),
            "nothing was measured on what is shown; frames with a measurement: {with}"
        )?;
    }
    Ok(())
}

/// Returns the drawings of marks, with what their book asks; without a book there is only nothing to
/// decide.
fn drawings(judging: &mut Judging, marked: &Marked, footage: &Footage) -> anyhow::Result<Drawings> {
    let ruled = match judging.book_of(marked) {
        Err(JudgedError::NoBook { .. }) => None,
        found => Some(found?),
    };
    let scored = ruled.as_ref().map(|ruled| (&*ruled.book, marked.sheet(ruled, None)));
    let limit = |reading: &stillcall::marks::Reading| {
        let (book, sheet) = scored.as_ref()?;
        let asked = sheet.asked_of(book, reading.of, reading.quantity).next();
        asked.map(stillcall::rulebook::Angle::limit)
    };
    Ok(Drawings::of(&marked.sheaf, footage, &limit, true))
}

/// Fails where marks are of another clip: their points would lie anywhere.
fn check(marked: &Marked, footage: &Footage, clip: &Path) -> anyhow::Result<()> {
    let (path, clip) = (marked.path.display(), clip.display());
    let of = marked.sheaf.clip.as_ref();
    let of = of.with_context(|| format!("{path}: is of a planned routine, which has no frames"))?;
    ensure!(
        of.quick_id == footage.content_id()?,
        "{path}: is of another clip than {clip}; give the marks of this one, or move them to it with \
         `stillcall attach`"
    );
    Ok(())
}

/// Returns the ground that is asked for.
pub(super) fn ground(lines: bool) -> Ground {
    if lines { Ground::Lines } else { Ground::Picture }
}

/// Says how far it is, and goes on.
pub(super) fn told(Progress { done, of }: Progress) -> ControlFlow<()> {
    printed::in_place(&format!("{:<70}", format!("{} %", 100 * done / of.max(1))));
    if done == of {
        printed::in_place(&format!("{:<70}\r", ""));
    }
    ControlFlow::Continue(())
}
