//! Opening clips beside the window's thread, and closing the window.

use std::path::{Path, PathBuf};

use iced::{Size, Task, window};

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
            Next::Back => self.back(),
            Next::TakeIn(folder) => self.take_in(folder),
            Next::Close(id) => window::close(id),
        }
    }

    /// Opens a clip on a thread of its own: counting the frames of a long one takes a while.
    fn open_now(&mut self, wanted: Wanted) -> Task<Message> {
        self.wait_for(Busy::Opening(wanted.clip.clone()));
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
                let back_to = if self.wall.is_some() { "‹ Library" } else { "‹ Start" };
                let uses = self.memory.uses.clone();
                Screen::Clip(Box::new(clip.with_uses(uses, back_to)))
            }
            Opening::Failed(complaint) => match self.wall.take() {
                Some(mut wall) => {
                    wall.complain(complaint);
                    Screen::Library(wall)
                }
                None => Screen::Start(Start::complaining(path, complaint)),
            },
            Opening::ClipOfMarksGone(complaint) => {
                Screen::Start(Start::looking_for_clip_of(path.to_owned(), complaint))
            }
        };
        Task::none()
    }

    /// Shows that something is waited for; the wall from which it was asked for is kept.
    pub(crate) fn wait_for(&mut self, busy: Busy) {
        let waiting = Screen::Start(Start::waiting(busy));
        match std::mem::replace(&mut self.screen, waiting) {
            Screen::Library(wall) => self.wall = Some(wall),
            Screen::Start(start) if start.busy().is_none() => self.wall = None,
            _ => {}
        }
    }

    /// Shows the wall as it was left, or else the start screen.
    pub(crate) fn back(&mut self) -> Task<Message> {
        match self.wall.take() {
            Some(mut wall) => {
                self.demo = None;
                let task = wall.come_back().map(Message::Library);
                self.screen = Screen::Library(wall);
                task
            }
            None => self.stop_waiting(),
        }
    }

    /// Takes a folder into the library, and shows that.
    fn take_in(&mut self, folder: PathBuf) -> Task<Message> {
        let shown = match self.screen {
            Screen::Library(_) => Task::none(),
            _ => self.show_library(""),
        };
        let take = self.library(library::Message::FolderChosen(Some(folder)));
        Task::batch([shown, take])
    }

    /// Remembers the size of the window, and asks whether it fills the screen.
    pub(crate) fn resized(&mut self, id: window::Id, size: Size) -> Task<Message> {
        if !self.memory.maximized {
            self.memory.window = Some([size.width, size.height]);
        }
        window::is_maximized(id).map(Message::Maximized)
    }

    pub(crate) fn maximized(&mut self, is: bool) -> Task<Message> {
        self.memory.maximized = is;
        Task::none()
    }

    pub(crate) fn stop_waiting(&mut self) -> Task<Message> {
        self.wall = None;
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
        self.memory.keep();
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
            Screen::Book(_) => self.close_book(id),
            Screen::Start(_) | Screen::Library(_) | Screen::BookAsked(_) => window::close(id),
        }
    }
}
