//! What the screens ask of the program.

use std::path::PathBuf;

use iced::Task;

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::window::{
    memory::LastRoutine,
    screens::{
        choice,
        clip::{self, Wanted},
        library::{self, Library},
        practice, start,
    },
};

impl Program {
    pub(crate) fn start(&mut self, message: start::Message) -> Task<Message> {
        // A file may be chosen from the clip screen too, in the same dialogue.
        let action = match (&mut self.screen, message) {
            (Screen::Start(start), message) => start.update(message, &self.memory),
            (_, start::Message::Chosen(Some(path))) => start::Action::Open(path, None),
            _ => start::Action::None,
        };
        match action {
            start::Action::None => Task::none(),
            start::Action::Run(task) => task.map(Message::Start),
            start::Action::Open(set, None) if practice::may_be_set(&set) => self.look_for_set(set),
            start::Action::Open(clip, marks) => self.open(Wanted::of(clip, marks)),
            start::Action::Demo => self.draw_demo(),
            start::Action::TrainEye => self.train(practice::EyeWanted::of_user(None)),
            start::Action::ShowLibrary(words) => self.show_library(words),
            start::Action::ShowBooks => self.show_books(),
            start::Action::Stop => self.back(),
            start::Action::Remember(change) => self.remember(change),
            start::Action::Own(command) => self.own(command),
        }
    }

    pub(crate) fn show_library(&mut self, words: &str) -> Task<Message> {
        let book = self.memory.last.book.clone();
        let (library, first) = Library::open(words, book, (self.home.clone(), self.apart.clone()));
        self.screen = Screen::Library(Box::new(library));
        first.map(Message::Library)
    }

    pub(crate) fn library(&mut self, message: library::Message) -> Task<Message> {
        let Screen::Library(library) = &mut self.screen else { return Task::none() };
        match library.update(message) {
            library::Action::None => Task::none(),
            library::Action::Run(task) => task.map(Message::Library),
            library::Action::Open(clip, marks) => self.open(Wanted::of(clip, marks)),
            library::Action::OpenAt(wanted) => self.open(wanted),
            library::Action::OpenSet(set) => self.open_set(practice::SittingWanted::of(set)),
            library::Action::Leave => self.stop_waiting(),
        }
    }

    pub(crate) fn remember(&mut self, change: start::Change) -> Task<Message> {
        match change {
            start::Change::Forget => self.memory.forget(),
            start::Change::Turn => self.memory.turn_recent(),
        }
        self.memory.keep();
        Task::none()
    }

    pub(crate) fn clip(&mut self, message: clip::Message) -> Task<Message> {
        let Screen::Clip(clip) = &mut self.screen else { return Task::none() };
        let action = clip.update(message);
        let last = clip.routine().map(LastRoutine::from);
        let last = last.filter(|last| *last != self.memory.last);
        let uses = (*clip.uses() != self.memory.uses).then(|| clip.uses().clone());
        if last.is_some() || uses.is_some() {
            self.memory.last = last.unwrap_or_else(|| self.memory.last.clone());
            self.memory.uses = uses.unwrap_or_else(|| self.memory.uses.clone());
            self.memory.keep();
        }
        let task = self.asked_by_clip(action);
        let held = match &mut self.screen {
            Screen::Clip(clip) => clip.next_held(),
            _ => None,
        };
        match held {
            Some(held) => Task::batch([task, self.clip(held)]),
            None => task,
        }
    }

    /// Does what the clip asks for, and carries out what it has begun beside the window's thread.
    pub(crate) fn asked_by_clip(&mut self, action: clip::Action) -> Task<Message> {
        let started = match &mut self.screen {
            Screen::Clip(clip) => clip.started().map(Message::Clip),
            _ => Task::none(),
        };
        let task = match action {
            clip::Action::None => return started,
            clip::Action::Run(task) => task.map(Message::Clip),
            clip::Action::OpenOther => {
                let near = self.memory.recent.first().map(PathBuf::as_path);
                choice::ask(near, start::Message::Chosen).map(Message::Start)
            }
            clip::Action::Open(wanted) => self.open(wanted),
            clip::Action::OpenSet(set) => self.open_set(practice::SittingWanted::of(set)),
            clip::Action::Leave(next) => self.go_on(next),
            clip::Action::Own(command) => self.own(command),
        };
        Task::batch([started, task])
    }
}
