//! A routine whose marks lie beside the clip.

use std::path::{Path, PathBuf};

use crate::{
    judged::Judging,
    marks::{self, Routine, StateFolder},
    units::FrameIndex,
    window::{memory::marks_of, screens::clip::session::event_and_division},
};

/// A routine whose marks lie beside the clip.
#[derive(Debug)]
pub(crate) struct Known {
    path: PathBuf,
    /// What it is, or why that cannot be read.
    routine: Result<Routine, String>,
    /// Event and division by name, as far as the book can be read; their ids otherwise.
    named: [String; 2],
}

/// Looks which routines lie beside a clip. Slow: not for the thread of the window.
pub(crate) fn routines_of(clip: &Path) -> Vec<Known> {
    let state = StateFolder::of_user();
    let mut judging = Judging::new(state.as_ref());
    let found = marks_of(clip).into_iter();
    found.map(|path| Known::load(path, state.as_ref(), &mut judging)).collect()
}

impl Known {
    fn load(path: PathBuf, state: Option<&StateFolder>, judging: &mut Judging) -> Self {
        let sheaf = marks::load(&path, state);
        let routine = sheaf.map(|sheaf| sheaf.routine).map_err(|error| error.to_string());
        let named = |routine: &Routine| {
            let ruled = judging.book(routine, &path).ok();
            event_and_division(ruled.as_ref().map(|ruled| &*ruled.book), routine)
        };
        let named = routine.as_ref().map(named).unwrap_or_default();
        Self { path, routine, named }
    }

    /// Returns where its marks lie.
    pub(crate) fn path(&self) -> &Path {
        &self.path
    }

    /// Returns the id of its event, where it can be read.
    pub(crate) fn event(&self) -> Option<&str> {
        self.routine.as_ref().ok().map(|routine| routine.event.as_str())
    }

    /// Returns its name within the clip, where it can be read.
    pub(super) fn id(&self) -> Option<&str> {
        self.routine.as_ref().ok().map(|routine| routine.id.as_str())
    }

    /// Returns whether the routine has this name within the clip.
    pub(crate) fn is_called(&self, name: &str) -> bool {
        self.routine.as_ref().is_ok_and(|routine| routine.id == name)
    }

    /// Returns its first and last frame, where they are known.
    pub(super) fn span(&self) -> Option<[FrameIndex; 2]> {
        let span = self.routine.as_ref().ok()?.span?;
        Some(span.map(|at| at.index))
    }

    pub(super) fn in_words(&self) -> (String, String) {
        let routine = match &self.routine {
            Ok(routine) => routine,
            Err(error) => return (file_name(&self.path), error.clone()),
        };
        let frames = routine.span.map(|[a, b]| format!("frames {} to {}", a.index, b.index));
        let frames = frames.unwrap_or_default();
        let [event, division] = &self.named;
        let what = [event, division, &routine.athlete].map(String::as_str);
        let aside = [&routine.judge, &routine.date, &frames].map(String::as_str);
        (format!("{}: {}", routine.id, joined(&what, ", ")), joined(&aside, " · "))
    }
}

fn joined(parts: &[&str], with: &str) -> String {
    parts.iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(with)
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}
