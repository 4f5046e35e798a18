//! Opening clips beside the window's thread, and closing the window.

use std::path::Path;

use iced::{Task, window};

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::window::screens::{
    clip::{self, Opening, Wanted, opening},
    library,
    start::{Busy, Start},
};

impl Program {
    /// Opens a clip on a thread of its own: counting the frames of a long one takes a while.
    pub(crate) fn open(&mut self, wanted: Wanted) -> Task<Message> {
        if let Screen::Clip(clip) = &mut self.screen
            && let Some(complaint) = clip.put_away()
        {
            return self.clip(clip::Message::Complained(complaint));
        }
        self.screen = Screen::Start(Start::waiting(Busy::Opening(wanted.clip.clone())));
        let (shown, last) = (self.shown.clone(), self.memory.last.clone());
        let path = wanted.clip.clone();
        let opening = tokio::task::spawn_blocking(move || opening::open(&wanted, shown, last));
        Task::perform(opening, move |opened| {
            let opened = opened.unwrap_or_else(|error| Opening::Failed(error.to_string()));
            Message::Opened(path.clone(), opened)
        })
    }

    pub(crate) fn opened(&mut self, path: &Path, opened: Opening) -> Task<Message> {
        if !self.waits_for(path) {
            return Task::none();
        }
        self.screen = match opened {
            Opening::Clip(clip) => {
                self.memory.opened(clip.path());
                self.memory.keep();
                Screen::Clip(clip)
            }
            Opening::Failed(complaint) => Screen::Start(Start::complaining(path, complaint)),
            Opening::ClipOfMarksGone(complaint) => {
                Screen::Start(Start::looking_for_clip_of(path.to_owned(), complaint))
            }
        };
        Task::none()
    }

    pub(crate) fn stop_waiting(&mut self) -> Task<Message> {
        // Dropping it stops it.
        self.demo = None;
        self.screen = Screen::Start(Start::default());
        self.count_due()
    }

    pub(crate) fn count_due(&self) -> Task<Message> {
        let home = self.home.clone();
        let counting = tokio::task::spawn_blocking(move || library::due(&home));
        Task::perform(counting, |due| Message::DueCounted(due.unwrap_or(0)))
    }

    /// Saves before the window closes; what cannot be saved is in the journal all the same, so a
    /// second request closes.
    pub(crate) fn close(&mut self, id: window::Id) -> Task<Message> {
        if let Screen::Clip(clip) = &mut self.screen
            && let Some(complaint) = clip.put_away()
        {
            return self.clip(clip::Message::Complained(complaint));
        }
        let may = match &mut self.screen {
            Screen::Practice(practice) => practice.put_away(),
            Screen::Pair(pair) => pair.put_away(),
            Screen::Start(_) | Screen::Clip(_) | Screen::Library(_) => true,
        };
        if !may {
            return Task::none();
        }
        window::close(id)
    }
}
