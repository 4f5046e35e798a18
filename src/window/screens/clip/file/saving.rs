//! Saving beside the thread of the window.

use std::{
    io,
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
        words::sentence,
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
        (self.complaint, self.chosen, self.disk) = (None, None, Disk::default());
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
        if self.disk.is_writing() {
            return Action::None;
        }
        let Some(saving) = self.session.begin_save() else { return Action::None };
        self.disk.begin();
        let path = self.session.path().map(PathBuf::from).unwrap_or_default();
        let writing = tokio::task::spawn_blocking(move || saving.write());
        Action::Run(Task::perform(writing, move |written| {
            let cut_short = |error| FORMAT.unwritable(&path, io::Error::other(error)).into();
            Message::Saved(written.map_err(cut_short).flatten().map_err(Arc::new))
        }))
    }

    pub(crate) fn saved(&mut self, saved: Result<Saved, Arc<DeskError>>) -> Action {
        match saved {
            Ok(saved) => {
                self.session.finish_save(saved);
                let told = self.disk.saved();
                if told.is_some() && self.complaint == told {
                    self.complaint = None;
                }
                // A version that was joined was kept with this save.
                if !self.jobs.is_busy() && self.session.take_looks_again() {
                    return self.look_for_asides();
                }
            }
            Err(error) => match self.join(&error) {
                Ok(()) => self.disk.again(),
                Err(why) => {
                    let now = jiff::ZonedDateTime::now().strftime("%H:%M").to_string();
                    let of = self.session.path().unwrap_or(Path::new(""));
                    self.complaint = self.disk.failed(of, why, now).or(self.complaint.take());
                }
            },
        }
        Action::None
    }

    /// Joins what somebody else wrote into the marks file, where that is why it was not saved;
    /// returns what to complain of otherwise.
    fn join(&mut self, error: &DeskError) -> Result<(), Complaint> {
        let DeskError::OtherVersion(theirs) = error else { return Err(Complaint::of(error)) };
        self.session.join(theirs).map_err(|error| Complaint::of(&error))
    }

    /// Saves within a second, but only while there is something to save; what fails is tried again,
    /// for as long as the window is open.
    pub(crate) fn when_to_save(&self) -> Subscription<Message> {
        let is_due = self.session.is_dirty() && !self.jobs.is_busy();
        let path = self.session.path().filter(|_| is_due);
        let pause = path.and_then(|path| self.disk.pause(path));
        pause.map_or_else(Subscription::none, |pause| time::every(pause).map(|_| Message::SaveDue))
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
                Err(error) if clip.join(&error).is_ok() => clip.put_away(next),
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
                "{}. Every change is kept in this computer's journal; close again to leave it \
                 there.",
                sentence(&error.to_string())
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
