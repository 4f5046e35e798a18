//! Saving beside the thread of the window.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use iced::{Subscription, Task, time};

use super::disk::Disk;
use crate::{
    marks::{DeskError, Routine, Saved, Saving, file::FORMAT, path_for},
    store::own_folder,
    window::{
        memory::marks_elsewhere,
        screens::clip::{
            Action, Clip, Message, Session,
            complaint::Complaint,
            message::Next,
            routine::known::{Known, routines_of},
            session::SessionError,
        },
    },
};

impl Clip {
    /// Opens the marks as they lie on disk. What was not saved yet is set aside with the journal.
    pub(crate) fn take_theirs(&mut self) -> Action {
        let Some(path) = self.session.path().map(Path::to_owned) else {
            return self.close_complaint();
        };
        let (beginning, clip) = (self.session.beginning(), self.path().to_owned());
        // The journal is locked as long as the old marks are open.
        self.session.let_go();
        self.go_on_with(move || (beginning.open(&path).map(Some), routines_of(&clip)))
    }

    /// Goes on in a file of its own beside the old one.
    pub(crate) fn keep_both(&mut self) -> Action {
        let folder = self.session.path().and_then(|path| path.parent().map(PathBuf::from));
        self.go_on_in(folder)
    }

    /// Goes on in a file in the user's own folder.
    pub(crate) fn keep_elsewhere(&mut self) -> Action {
        self.go_on_in(marks_elsewhere())
    }

    /// Goes on with the same marks in a file that is not there yet, in the folder that is given;
    /// the old one stays as it is.
    fn go_on_in(&mut self, folder: Option<PathBuf>) -> Action {
        let (Some(folder), Some(sheaf)) = (folder, self.session.sheaf().cloned()) else {
            return self.close_complaint();
        };
        let (beginning, clip) = (self.session.beginning(), self.path().to_owned());
        self.go_on_with(move || {
            let session = match free_path(&folder, &clip, &sheaf.routine) {
                Ok(Some(path)) => beginning.begin(&path, sheaf).map(Some),
                Ok(None) => Ok(None),
                Err(error) => Err(error),
            };
            (session, routines_of(&clip))
        })
    }

    /// Goes on with the session that is begun beside the thread of the window; with this one where
    /// there is none.
    fn go_on_with(
        &mut self,
        begin: impl FnOnce() -> (Result<Option<Session>, SessionError>, Vec<Known>) + Send + 'static,
    ) -> Action {
        (self.complaint, self.chosen, self.disk) = (None, None, Disk::Ready);
        self.beside(begin, |clip, (session, routines)| {
            clip.routines = routines;
            match session {
                Ok(Some(session)) => clip.session = session,
                Ok(None) => {}
                Err(error) => return clip.complain_of(&error),
            }
            Action::None
        })
    }

    /// Begins to save, unless that is under way.
    pub(crate) fn save(&mut self) -> Action {
        if self.disk == Disk::Writing {
            return Action::None;
        }
        let Some(saving) = self.session.begin_save() else { return Action::None };
        self.disk = Disk::Writing;
        let writing = tokio::task::spawn_blocking(move || saving.write());
        Action::Run(Task::perform(writing, |written| match written {
            Ok(Ok(saved)) => Message::Saved(Ok(saved)),
            Ok(Err(error)) => Message::Saved(Err(Arc::new(error))),
            // It was cut short by the end of the program: what it meant to write is in the
            // journal.
            Err(_) => Message::ComplaintClosed,
        }))
    }

    pub(crate) fn saved(&mut self, saved: Result<Saved, Arc<DeskError>>) -> Action {
        match saved {
            Ok(saved) => {
                self.session.finish_save(saved);
                self.disk = Disk::Ready;
            }
            Err(error) => {
                self.complaint = Some(Complaint::of(&error));
                self.disk = Disk::Refused;
            }
        }
        Action::None
    }

    /// Saves within a second, but only while there is something to save.
    pub(crate) fn when_to_save(&self) -> Subscription<Message> {
        if self.session.is_dirty() && self.disk == Disk::Ready && !self.jobs.is_busy() {
            time::every(time::Duration::from_millis(500)).map(|_| Message::SaveDue)
        } else {
            Subscription::none()
        }
    }

    /// Saves before the screen goes away, and says what went wrong, the first time; then something
    /// else is done.
    pub(crate) fn put_away(&mut self, next: Next) -> Action {
        let Some(saving) = self.last_save() else { return Action::Leave(next) };
        self.beside(
            move || saving.write(),
            |clip, written| match written {
                Ok(saved) => {
                    clip.session.finish_save(saved);
                    Action::Leave(next)
                }
                Err(error) => match clip.unsaved(&error) {
                    Some(told) => clip.complain(&told),
                    None => Action::Leave(next),
                },
            },
        )
    }

    /// Takes note of a save before the window closes; returns whether it stays, because something
    /// is told.
    pub(crate) fn was_saved(&mut self, written: Result<Saved, Arc<DeskError>>) -> bool {
        let told = match written {
            Ok(saved) => {
                self.session.finish_save(saved);
                None
            }
            Err(error) => self.unsaved(&error),
        };
        told.is_some_and(|told| {
            self.complain(&told);
            true
        })
    }

    /// Returns what is still to be saved before the screen goes away.
    pub(crate) fn last_save(&mut self) -> Option<Saving> {
        self.put_what_waits();
        self.session.begin_save()
    }

    /// Returns what is to be told of marks that could not be saved on leaving: once.
    pub(crate) fn unsaved(&mut self, error: &DeskError) -> Option<String> {
        let told = std::mem::replace(&mut self.told_unsaved, true);
        (!told).then(|| {
            format!(
                "{error}. Every change is kept in this computer's journal; close again to leave \
                 it there."
            )
        })
    }
}

/// Returns a place in the folder, which is made first, where no marks of the routine lie yet.
fn free_path(
    folder: &Path,
    clip: &Path,
    routine: &Routine,
) -> Result<Option<PathBuf>, SessionError> {
    own_folder(folder).map_err(|source| DeskError::File(FORMAT.unwritable(folder, source)))?;
    let named = |judge: &str| {
        let path = path_for(clip, &routine.id, judge);
        folder.join(path.file_name().unwrap_or_default())
    };
    let judges = (2..).map(|number: u32| format!("{}-{number}", routine.judge));
    let names = std::iter::once(routine.judge.clone()).chain(judges).map(|it| named(&it));
    Ok(names.into_iter().find(|path| !path.exists()))
}
