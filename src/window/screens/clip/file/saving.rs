//! Saving beside the thread of the window.

use std::{path::PathBuf, sync::Arc};

use iced::{Subscription, Task, time};

use super::disk::Disk;
use crate::{
    marks::{DeskError, Saved, file::FORMAT},
    window::{
        memory::marks_elsewhere,
        screens::clip::{Action, Clip, Message, complaint::Complaint, session::SessionError},
    },
};

impl Clip {
    /// Opens the marks as they lie on disk.
    pub(crate) fn take_theirs(&mut self) -> Result<(), SessionError> {
        self.session.reopen()
    }

    /// Goes on in a file of its own beside the old one.
    pub(crate) fn keep_both(&mut self) -> Result<(), SessionError> {
        self.go_on_in(|path| path.parent().map(PathBuf::from))
    }

    /// Goes on in a file in the user's own folder.
    pub(crate) fn keep_elsewhere(&mut self) -> Result<(), SessionError> {
        self.go_on_in(|_| marks_elsewhere())
    }

    /// Goes on in a file that is not there yet, in the folder that is given.
    fn go_on_in(
        &mut self,
        folder: impl Fn(&std::path::Path) -> Option<PathBuf>,
    ) -> Result<(), SessionError> {
        let Some(path) = self.session.path() else { return Ok(()) };
        let (Some(folder), Some(routine)) = (folder(path), self.routine()) else { return Ok(()) };
        if let Err(source) = std::fs::create_dir_all(&folder) {
            let error = FORMAT.unwritable(&folder, source);
            return Err(DeskError::File(error).into());
        }
        let named = |judge: &str| {
            let path = crate::marks::path_for(self.stage.path(), &routine.id, judge);
            folder.join(path.file_name().unwrap_or_default())
        };
        let judges = (2..).map(|number: u32| format!("{}-{number}", routine.judge));
        let names = std::iter::once(routine.judge.clone()).chain(judges).map(|it| named(&it));
        let free = names.into_iter().find(|path| !path.exists());
        free.map_or(Ok(()), |path| self.session.go_on_in(&path))
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
        if self.session.is_dirty() && self.disk == Disk::Ready {
            time::every(time::Duration::from_millis(500)).map(|_| Message::SaveDue)
        } else {
            Subscription::none()
        }
    }

    /// Saves before the screen goes away; returns what went wrong, the first time.
    pub(crate) fn put_away(&mut self) -> Option<String> {
        self.put_what_waits();
        let error = self.session.save().err()?;
        let told = std::mem::replace(&mut self.told_unsaved, true);
        (!told).then(|| {
            format!(
                "{error}. Every change is kept in this computer's journal; close again to leave \
                 it there."
            )
        })
    }
}
