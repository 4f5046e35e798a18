//! Keys and what else comes from outside: to the screen that is shown, or done for every screen.

use std::path::PathBuf;

use iced::{Event, Task, advanced::input_method, event, keyboard, window};

use super::state::{Message, Program, Screen};
use crate::window::{
    keymap::{self, Command},
    screens::{
        clip::{self, Wanted},
        library, pair, practice, start,
    },
    typing::Typed,
};

impl Program {
    pub(crate) fn key_pressed(&mut self, event: keyboard::Event) -> Task<Message> {
        // Size and look are for every screen, also while somebody writes.
        match keymap::command_for(&event) {
            Some(command @ (Command::NextLook | Command::TextSize(_))) => self.own(command),
            _ => match self.screen {
                Screen::Start(_) => self.start(start::Message::KeyPressed(event)),
                Screen::Clip(_) => self.clip(clip::Message::KeyPressed(event)),
                Screen::Pair(_) => self.pair(pair::Message::KeyPressed(event)),
                Screen::Practice(_) => self.practice(practice::Message::KeyPressed(event)),
                Screen::Library(_) => self.library(library::Message::KeyPressed(event)),
            },
        }
    }

    /// A clip, marks or a set are opened; a rule book is for the clip that is open. Nothing takes
    /// the place of a sitting.
    pub(crate) fn dropped(&mut self, path: PathBuf) -> Task<Message> {
        let book = path.extension().is_some_and(|extension| extension == "toml");
        match self.screen {
            Screen::Practice(_) => Task::none(),
            Screen::Pair(_) => self.pair(pair::Message::Chosen(Some(path))),
            _ if practice::is_set(&path) => self.open_set(practice::Wanted::of(path)),
            Screen::Clip(_) if book => self.clip(clip::Message::BookDropped(path)),
            _ => self.open(Wanted { clip: path, marks: None }),
        }
    }

    pub(crate) fn typed(&mut self, typed: Typed) -> Task<Message> {
        match self.screen {
            Screen::Start(_) => self.start(start::Message::Typed(typed)),
            Screen::Clip(_) => self.clip(clip::Message::Typed(typed)),
            Screen::Pair(_) => self.pair(pair::Message::Typed(typed)),
            Screen::Practice(_) => self.practice(practice::Message::Typed(typed)),
            Screen::Library(_) => self.library(library::Message::Typed(typed)),
        }
    }

    /// Does what every screen can do.
    pub(crate) fn own(&mut self, command: Command) -> Task<Message> {
        match command {
            Command::NextLook => self.memory.look = self.memory.look.next(),
            Command::TextSize(steps) => self.memory.resize(steps),
            _ => return Task::none(),
        }
        self.theme = self.memory.look.theme();
        self.memory.keep();
        Task::none()
    }
}

/// Picks out of everything that happens what the program listens to.
pub(crate) fn heard(event: Event, status: event::Status, _: window::Id) -> Option<Message> {
    match (event, status) {
        (Event::Keyboard(event @ keyboard::Event::KeyPressed { .. }), event::Status::Ignored) => {
            Some(Message::KeyPressed(event))
        }
        (Event::InputMethod(event), _) => match event {
            input_method::Event::Preedit(text, _) => Some(Message::Typed(Typed::Composing(text))),
            input_method::Event::Commit(text) => Some(Message::Typed(Typed::Text(text))),
            input_method::Event::Opened | input_method::Event::Closed => None,
        },
        (Event::Window(window::Event::FileDropped(path)), _) => Some(Message::FileDropped(path)),
        _ => None,
    }
}
