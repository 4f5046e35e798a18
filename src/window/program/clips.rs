//! Opening clips beside the window's thread, and closing the window.

use std::path::Path;

use iced::{Task, window};

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::window::screens::{
    clip::{Next, Opening, Wanted, opening},
    library,
    start::{Busy, Start},
};

impl Program {
    /// Opens a clip once what is open is put away.
    pub(crate) fn open(&mut self, wanted: Wanted) -> Task<Message> {
        self.leave_clip(Next::Open(wanted))
    }

    /// Puts an open clip away before something else is done.
    pub(crate) fn leave_clip(&mut self, next: Next) -> Task<Message> {
        match &mut self.screen {
            Screen::Clip(clip) => {
                let action = clip.put_away(next);
                self.asked_by_clip(action)
            }
            _ => self.go_on(next),
        }
    }

    /// Does what comes once a clip is put away.
    pub(crate) fn go_on(&mut self, next: Next) -> Task<Message> {
        match next {
            Next::Open(wanted) => self.open_now(wanted),
            Next::OpenSet(wanted) => self.open_set_now(wanted),
            Next::LayBeside => self.lay_beside(),
            Next::Close(id) => window::close(id),
        }
    }

    /// Opens a clip on a thread of its own: counting the frames of a long one takes a while.
    fn open_now(&mut self, wanted: Wanted) -> Task<Message> {
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
        match &mut self.screen {
            Screen::Clip(_) => self.leave_clip(Next::Close(id)),
            Screen::Pair(pair) => {
                let action = pair.put_away(id);
                self.asked_by_pair(action)
            }
            Screen::Practice(practice) => {
                if practice.put_away() {
                    window::close(id)
                } else {
                    Task::none()
                }
            }
            Screen::Start(_) | Screen::Library(_) => window::close(id),
        }
    }
}
