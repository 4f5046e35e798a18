//! Opening a clip with the marks that lie beside it; and drawing the sample clips.

use std::{
    env,
    path::{Path, PathBuf},
    process::{Child, Command, Stdio},
    sync::{Arc, Mutex},
    thread,
    time::Duration,
};

use super::{
    arrived::Arrived,
    clip::{Clip, Complaint, Remedy, Session},
    memory::{LastRoutine, marks_elsewhere},
    stage::Stage,
};
use crate::marks::{self, Kin, Sheaf, StateFolder};

/// What is to be opened.
#[derive(Clone, Debug)]
pub(super) struct Wanted {
    /// A clip, or a marks file whose clip lies beside it.
    pub clip: PathBuf,
    /// The marks, where they are asked for by name.
    pub marks: Option<PathBuf>,
}

/// What came of it.
pub(super) enum Opening {
    /// The clip screen.
    Clip(Box<Clip>),
    /// It could not be opened, and why.
    Failed(String),
    /// Marks were to be opened, and their clip is not where it was; what to do about it.
    ClipOfMarksGone(String),
}

/// Opens a clip and its marks. Slow: not for the thread of the window.
pub(super) fn open(wanted: &Wanted, shown: Option<PathBuf>, last: LastRoutine) -> Opening {
    if is_marks(&wanted.clip) && wanted.marks.is_none() {
        return match clip_of_marks(&wanted.clip) {
            Ok(clip) => {
                let marks = Some(wanted.clip.clone());
                open(&Wanted { clip, marks }, shown, last)
            }
            Err(opening) => opening,
        };
    }
    let arrived = Arrived::default();
    let signal = arrived.clone();
    let stage = match Stage::open(&wanted.clip, move || signal.signal()) {
        Ok(stage) => stage,
        Err(error) => return Opening::Failed(error.to_string()),
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
            Err(error) => {
                (Session::empty(shown, arrived.clone()), Some(Complaint::new(error.to_string())))
            }
        },
        None => (Session::empty(shown, arrived.clone()), None),
    };
    let mut clip = Clip::new(stage, arrived, session).complaining(complaint).with_last(last);
    clip.look_for_routines();
    if wanted.marks.is_none() && found.len() > 1 {
        clip.ask_which_routine();
    }
    Opening::Clip(Box::new(clip))
}

/// Returns the marks files of a clip: those beside it, and those kept elsewhere because nothing
/// could be written there.
pub(super) fn marks_of(clip: &Path) -> Vec<PathBuf> {
    let mut found = marks::beside(clip);
    if let (Some(folder), Some(name)) = (marks_elsewhere(), clip.file_name()) {
        found.extend(marks::beside(&folder.join(name)));
    }
    found
}

fn is_marks(path: &Path) -> bool {
    path.to_string_lossy().ends_with(".marks.json")
}

fn clip_of_marks(path: &Path) -> Result<PathBuf, Opening> {
    let sheaf = marks::load(path, StateFolder::of_user().as_ref())
        .map_err(|error| Opening::Failed(error.to_string()))?;
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

/// The sample clips being drawn, by this same program in a process of its own, so that it can be
/// stopped; dropping it stops it.
pub(super) struct Demo {
    child: Arc<Mutex<Child>>,
    folder: PathBuf,
}

impl Demo {
    /// Begins to draw; nothing where that is not possible.
    pub(super) fn begin() -> Option<Self> {
        let folder = StateFolder::of_user()?.path().join("demo");
        let child = Command::new(env::current_exe().ok()?)
            .args(["demo", "--no-window", "--out"])
            .arg(&folder)
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .ok()?;
        Some(Self { child: Arc::new(Mutex::new(child)), folder })
    }

    /// Waits for the end and returns the clip to open.
    pub(super) fn wait(&self) -> impl Future<Output = Result<PathBuf, String>> + use<> {
        let (child, folder) = (Arc::clone(&self.child), self.folder.clone());
        let waiting = tokio::task::spawn_blocking(move || {
            loop {
                // Only looked at now and then, so that it can be stopped in between.
                let ended = child.lock().ok().and_then(|mut child| child.try_wait().ok());
                match ended {
                    Some(None) => thread::sleep(Duration::from_millis(200)),
                    Some(Some(status)) if status.success() => {
                        return Ok(folder.join("bars-routine.mp4"));
                    }
                    _ => {
                        return Err("The sample clips could not be drawn. Is the ffmpeg program \
                                    installed?"
                            .to_owned());
                    }
                }
            }
        });
        async move { waiting.await.unwrap_or_else(|error| Err(error.to_string())) }
    }
}

impl Drop for Demo {
    fn drop(&mut self) {
        if let Ok(mut child) = self.child.lock() {
            // It may have ended already; then there is nothing to stop.
            let _ = child.kill();
        }
    }
}
