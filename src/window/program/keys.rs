//! Keys and what else comes from outside: to the screen that is shown, or done for every screen.

use std::path::{Path, PathBuf};

use iced::{Task, keyboard};

use super::{
    message::Message,
    state::{Program, Screen},
};
use crate::window::{
    controls::{Tab, tab, walk},
    keymap::{self, Everywhere},
    screens::{
        book,
        clip::{self, Wanted},
        library, pair, practice, start,
    },
    typing::Typed,
};

impl Program {
    pub(crate) fn key_pressed(&mut self, event: keyboard::Event) -> Task<Message> {
        if let Some(held) = &mut self.held {
            held.push(event);
            return Task::none();
        }
        match tab(&event).filter(|_| self.tab() == Tab::Everything) {
            Some(is_back) => {
                self.held = Some(Vec::new());
                walk(is_back).map(move |walked| Message::Walked(event.clone(), walked))
            }
            None => self.key_to_screen(event),
        }
    }

    /// What Tab does on the screen that is shown.
    fn tab(&self) -> Tab {
        match &self.screen {
            Screen::Library(library) => library.tab(),
            Screen::Practice(practice) => practice.tab(),
            Screen::Book(forms) => forms.tab(),
            Screen::Start(_) | Screen::Clip(_) | Screen::Pair(_) | Screen::BookAsked(_) => {
                Tab::Everything
            }
        }
    }

    /// Tab has found its way: what the screen has to say of it, and then what came meanwhile.
    pub(crate) fn walked(&mut self, event: keyboard::Event, walked: bool) -> Task<Message> {
        let held = self.held.take().unwrap_or_default();
        let own = if walked { Task::none() } else { self.key_to_screen(event) };
        let then = held.into_iter().map(|event| self.key_pressed(event));
        Task::batch(std::iter::once(own).chain(then))
    }

    fn key_to_screen(&mut self, event: keyboard::Event) -> Task<Message> {
        // Size and look are for every screen, also while somebody writes.
        match keymap::everywhere(&event) {
            Some(command) => self.own(command),
            None => match self.screen {
                Screen::Start(_) => self.start(start::Message::KeyPressed(event)),
                Screen::Clip(_) => self.clip(clip::Message::KeyPressed(event)),
                Screen::Pair(_) => self.pair(pair::Message::KeyPressed(event)),
                Screen::Practice(_) => self.practice(practice::Message::KeyPressed(event)),
                Screen::Library(_) => self.library(library::Message::KeyPressed(event)),
                Screen::BookAsked(_) => self.book_asked(book::BeginMessage::KeyPressed(event)),
                Screen::Book(_) => self.book(book::Message::KeyPressed(event)),
            },
        }
    }

    /// Looks beside the window's thread whether a folder was dropped.
    pub(crate) fn look_at_dropped(path: PathBuf) -> Task<Message> {
        let looked = path.clone();
        let looking = tokio::task::spawn_blocking(move || looked.is_dir());
        Task::perform(looking, move |is_folder| {
            Message::DroppedLookedAt(path.clone(), is_folder.unwrap_or_default())
        })
    }

    /// A clip, marks or a set are opened; a bundle is taken into the library where that is shown; a rule book is for the clip that is open; a folder goes
    /// into the library. Nothing takes the place of a sitting.
    pub(crate) fn dropped(&mut self, path: PathBuf, is_folder: bool) -> Task<Message> {
        match self.screen {
            Screen::Practice(_) | Screen::Book(_) => Task::none(),
            Screen::BookAsked(_) => self.book_asked(book::BeginMessage::Chosen(Some(path))),
            _ if is_folder => self.leave_clip(clip::Next::TakeIn(path)),
            Screen::Pair(_) => self.pair(pair::Message::Chosen(Some(path))),
            Screen::Clip(_) if practice::may_be_set(&path) => {
                self.clip(clip::Message::BookDropped(path))
            }
            Screen::Library(_) if is_bundle(&path) => {
                self.library(library::Message::Take(library::TakeMessage::Chosen(Some(path))))
            }
            _ if practice::may_be_set(&path) => self.look_for_set(path),
            _ => self.open(Wanted::of(path, None)),
        }
    }

    pub(crate) fn typed(&mut self, typed: Typed) -> Task<Message> {
        match self.screen {
            Screen::Start(_) => self.start(start::Message::Typed(typed)),
            Screen::Clip(_) => self.clip(clip::Message::Typed(typed)),
            Screen::Pair(_) => self.pair(pair::Message::Typed(typed)),
            Screen::Practice(_) => self.practice(practice::Message::Typed(typed)),
            Screen::Library(_) => self.library(library::Message::Typed(typed)),
            Screen::BookAsked(_) => self.book_asked(book::BeginMessage::Typed(typed)),
            Screen::Book(_) => self.book(book::Message::Typed(typed)),
        }
    }

    /// Does what every screen can do.
    pub(crate) fn own(&mut self, command: Everywhere) -> Task<Message> {
        match command {
            Everywhere::NextLook => self.memory.look = self.memory.look.next(),
            Everywhere::TextSize(steps) => self.memory.resize(steps),
        }
        self.theme = self.memory.look.theme();
        self.memory.keep();
        Task::none()
    }
}

/// Returns whether a file is a bundle by its name; what it holds is looked at when it is taken in.
fn is_bundle(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("zip"))
}
