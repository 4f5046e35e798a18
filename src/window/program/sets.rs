//! What the program does for the screens of practice.

use std::path::{Path, PathBuf};

use iced::Task;

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::{
    practice::gather,
    window::screens::{
        clip::{Next, Wanted},
        practice::{self, Practice},
        start::{Busy, Start},
    },
};

impl Program {
    pub(crate) fn practice(&mut self, message: practice::Message) -> Task<Message> {
        let Screen::Practice(practice) = &mut self.screen else { return Task::none() };
        match practice.update(message) {
            practice::Action::None => Task::none(),
            practice::Action::Run(task) => task.map(Message::Practice),
            practice::Action::Leave => self.back(),
            practice::Action::Compare(wanted) => self.compare(wanted),
        }
    }

    /// Opens a set once what is open is put away.
    pub(crate) fn open_set(&mut self, wanted: practice::SittingWanted) -> Task<Message> {
        self.leave_clip(Next::OpenSet(wanted))
    }

    /// Looks whether a file is a set, which is opened then, or else a clip.
    pub(crate) fn look_for_set(&mut self, path: PathBuf) -> Task<Message> {
        self.wait_for(Busy::Opening(path.clone()));
        let looked = path.clone();
        let looking = tokio::task::spawn_blocking(move || practice::is_set(&looked));
        Task::perform(looking, move |is_set| {
            Message::SetLookedFor(path.clone(), is_set.unwrap_or_default())
        })
    }

    pub(crate) fn set_looked_for(&mut self, path: PathBuf, is_set: bool) -> Task<Message> {
        match self.waits_for(&path) {
            false => Task::none(),
            true if is_set => self.open_set(practice::SittingWanted::of(path)),
            true => self.open(Wanted::of(path, None)),
        }
    }

    /// Opens a set on a thread of its own.
    pub(crate) fn open_set_now(&mut self, wanted: practice::SittingWanted) -> Task<Message> {
        let path = wanted.set.clone();
        self.wait_for(Busy::Opening(path.clone()));
        let last = self.memory.last.judge.clone();
        let opening = tokio::task::spawn_blocking(move || practice::open(&wanted, &last));
        Task::perform(opening, move |opened| {
            let opened = opened.unwrap_or_else(|error| Err(error.to_string()));
            Message::SetOpened(path.clone(), opened)
        })
    }

    /// Compares calls on a thread of its own and shows what comes out.
    pub(crate) fn compare(&mut self, wanted: gather::AgreementWanted) -> Task<Message> {
        let path = wanted.reference.clone();
        self.screen = Screen::Start(Start::waiting(Busy::Comparing(path.clone())));
        let comparing = tokio::task::spawn_blocking(move || practice::compare(&wanted));
        Task::perform(comparing, move |compared| {
            let compared = compared.unwrap_or_else(|error| Err(error.to_string()));
            Message::Compared(path.clone(), compared)
        })
    }

    pub(crate) fn compared(
        &mut self,
        path: &Path,
        compared: Result<Practice, String>,
    ) -> Task<Message> {
        let waits = matches!(&self.screen, Screen::Start(start)
            if start.busy().is_some_and(|busy| *busy == Busy::Comparing(path.to_owned())));
        if waits {
            self.screen = match compared {
                Ok(practice) => Screen::Practice(practice),
                Err(why) => Screen::Start(Start::complaining(Path::new(""), why)),
            };
        }
        Task::none()
    }

    /// Shows figures for the eye.
    pub(crate) fn train(&mut self, wanted: practice::EyeWanted) -> Task<Message> {
        let mut practice = practice::train(wanted, &self.memory.last.judge);
        let first = practice.first().map(Message::Practice);
        self.screen = Screen::Practice(practice);
        first
    }

    pub(crate) fn set_opened(
        &mut self,
        path: &Path,
        opened: Result<Practice, String>,
    ) -> Task<Message> {
        if !self.waits_for(path) {
            return Task::none();
        }
        match opened {
            Ok(mut practice) => {
                self.memory.opened(path);
                self.memory.keep();
                let first = practice.first().map(Message::Practice);
                self.screen = Screen::Practice(practice);
                first
            }
            Err(complaint) => {
                self.screen = Screen::Start(Start::complaining(path, complaint));
                Task::none()
            }
        }
    }

    /// Returns whether this is what is waited for: something else may have been asked for
    /// meanwhile, or nothing any more.
    pub(crate) fn waits_for(&self, path: &Path) -> bool {
        matches!(&self.screen, Screen::Start(start)
            if start.busy().is_some_and(|busy| *busy == Busy::Opening(path.to_owned())))
    }
}
