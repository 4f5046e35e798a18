//! Saving beside the thread of the window, and what to do when something could not be done.

use std::{path::PathBuf, sync::Arc};

use iced::{
    Element, Length, Subscription, Task, time,
    widget::{button, column, container, row, text},
};

use super::{Action, Clip, Message, session::SessionError};
use crate::{
    marks::{DeskError, FileError, Saved},
    window::{
        keymap::{self, Command},
        memory::marks_elsewhere,
        theme::{self, size},
    },
};

/// Something that went wrong, and what may be done about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Complaint {
    /// What went wrong, in words.
    text: String,
    /// What may be done.
    remedies: Vec<Remedy>,
}

/// How it stands with the file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Disk {
    /// It is written when there is something to write.
    #[default]
    Ready,
    /// It is being written.
    Writing,
    /// It could not be written; a person is told and decides.
    Refused,
}

/// Something to do about what went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remedy {
    /// The marks are opened as they lie on disk.
    TakeTheirs,
    /// The marks go on in a new file beside the old one.
    KeepBoth,
    /// The marks go on in a file in the user's own folder.
    Elsewhere,
}

impl Remedy {
    const fn says(self) -> &'static str {
        match self {
            Self::TakeTheirs => "Open what is on disk",
            Self::KeepBoth => "Keep mine in a file of its own",
            Self::Elsewhere => "Keep the marks in my own folder",
        }
    }
}

impl Complaint {
    /// Returns a complaint about which nothing can be done but to read it.
    pub fn new(text: impl Into<String>) -> Self {
        Self { text: text.into(), remedies: Vec::new() }
    }

    fn of(error: &DeskError) -> Self {
        let remedies = match error {
            DeskError::ChangedOutside { .. } => vec![Remedy::TakeTheirs, Remedy::KeepBoth],
            DeskError::File(FileError::Unwritable { .. }) => vec![Remedy::Elsewhere],
            _ => Vec::new(),
        };
        Self { text: error.to_string(), remedies }
    }

    /// Draws the complaint.
    pub fn view(&self) -> Element<'_, Message> {
        let small = |label: String, message| {
            button(text(label).size(size::SMALL))
                .padding([theme::space::HAIR, theme::space::SMALL])
                .style(theme::other_button)
                .on_press(message)
        };
        let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
        let remedies = self.remedies.iter().enumerate().map(|(place, remedy)| {
            let command = Command::Remedy(place as u8);
            let label = format!("{} ({})", remedy.says(), keymap::key_of(command));
            small(label, Message::Asked(command)).into()
        });
        let remedies = row(remedies).push(small("Close".to_owned(), Message::ComplaintClosed));
        let said = column![text(&self.text), remedies.spacing(theme::space::SMALL).wrap()]
            .spacing(theme::space::SMALL)
            .width(Length::Fill);
        container(row![sign, said].spacing(theme::space::SMALL))
            .padding(theme::space::SMALL)
            .style(theme::complaint)
            .into()
    }
}

impl Clip {
    pub(super) fn complain(&mut self, text: &str) -> Action {
        self.complaint = Some(Complaint::new(text));
        Action::None
    }

    pub(super) fn complain_of(&mut self, error: &SessionError) -> Action {
        self.complaint = Some(match error {
            SessionError::Desk(error) => Complaint::of(error),
            other => Complaint::new(other.to_string()),
        });
        Action::None
    }

    pub(super) fn close_complaint(&mut self) -> Action {
        self.complaint = None;
        self.disk = Disk::Ready;
        Action::None
    }

    /// Does what the complaint offers in this place.
    pub(super) fn remedy(&mut self, place: u8) -> Action {
        let offered = self.complaint.as_ref().and_then(|it| it.remedies.get(usize::from(place)));
        let Some(remedy) = offered.copied() else { return Action::None };
        let done = match remedy {
            Remedy::TakeTheirs => self.session.reopen(),
            Remedy::KeepBoth => self.go_on_in(|path| path.parent().map(PathBuf::from)),
            Remedy::Elsewhere => self.go_on_in(|_| marks_elsewhere()),
        };
        (self.complaint, self.chosen, self.disk) = (None, None, Disk::Ready);
        self.look_for_routines();
        done.map_or_else(|error| self.complain_of(&error), |()| Action::None)
    }

    /// Goes on in a file that is not there yet, in the folder that is given.
    fn go_on_in(
        &mut self,
        folder: impl Fn(&std::path::Path) -> Option<PathBuf>,
    ) -> Result<(), SessionError> {
        let Some(path) = self.session.path() else { return Ok(()) };
        let (Some(folder), Some(routine)) = (folder(path), self.routine()) else { return Ok(()) };
        if let Err(source) = std::fs::create_dir_all(&folder) {
            let error = FileError::Unwritable { path: folder, source };
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
    pub(super) fn save(&mut self) -> Action {
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

    pub(super) fn saved(&mut self, saved: Result<Saved, Arc<DeskError>>) -> Action {
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
    pub(super) fn when_to_save(&self) -> Subscription<Message> {
        if self.session.is_dirty() && self.disk == Disk::Ready {
            time::every(time::Duration::from_millis(500)).map(|_| Message::SaveDue)
        } else {
            Subscription::none()
        }
    }

    /// Saves before the screen goes away; returns what went wrong, the first time.
    pub fn put_away(&mut self) -> Option<String> {
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
