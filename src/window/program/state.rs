//! What the program knows, and where what happens goes.

use std::{env, path::PathBuf};

use iced::{Element, Subscription, Task, Theme, event, keyboard, window};

use super::{
    drawing::Demo,
    message::{Message, heard},
    opens_on::OpensOn,
};
use crate::{
    footage::ApartDecoder,
    library::Home,
    units::visible,
    window::{
        memory::Memory,
        screens::{
            book::{Begin, BookForms},
            clip::{Clip, Wanted},
            library::Library,
            pair::Pair,
            practice::Practice,
            start::Start,
        },
    },
};

/// The whole program: the screen that is shown, and what outlives it.
pub(crate) struct Program {
    pub(crate) screen: Screen,
    pub(crate) memory: Memory,
    /// The theme made of the look; kept, because it is asked for at each redraw.
    pub(crate) theme: Theme,
    pub(crate) demo: Option<Demo>,
    /// Where the library is kept.
    pub(crate) home: Option<Home>,
    /// The wall of clips, while something that was opened from it is shown.
    pub(crate) wall: Option<Box<Library>>,
    /// Who decodes the library's clips.
    pub(crate) apart: ApartDecoder,
    /// Clips of the library that are to be deleted by today.
    pub(crate) due: usize,
    /// Keys that came while Tab was looking for its way; they come after it.
    pub(crate) held: Option<Vec<keyboard::Event>>,
    /// File to which the sheet on screen is written, for tests of the whole program.
    pub(crate) shown: Option<PathBuf>,
}

/// Which screen is shown.
pub(crate) enum Screen {
    Start(Start),
    Clip(Box<Clip>),
    Pair(Box<Pair>),
    Practice(Practice),
    Library(Box<Library>),
    BookAsked(Begin),
    Book(Box<BookForms>),
}

impl Program {
    pub(crate) fn new(opens_on: OpensOn, memory: Memory) -> (Self, Task<Message>) {
        let shown = env::var_os("STILLCALL_SHOWN").map(PathBuf::from);
        let theme = memory.look.theme();
        let screen = Screen::Start(Start::default());
        let (home, apart) = (Home::of_user(), ApartDecoder::default());
        let wall = None;
        let mut program = Self {
            screen,
            memory,
            theme,
            demo: None,
            home,
            wall,
            apart,
            due: 0,
            held: None,
            shown,
        };
        let task = match opens_on {
            OpensOn::Start => program.count_due(),
            OpensOn::Clip(clip, marks) => program.open(Wanted::of(clip, marks)),
            OpensOn::Sample(clip) => program.open(Wanted::sample(clip)),
            OpensOn::Set(wanted) => program.open_set(wanted),
            OpensOn::Eye(wanted) => program.train(wanted),
            OpensOn::Agreement(wanted) => program.compare(wanted),
            OpensOn::Library(home, words, apart) => {
                (program.home, program.apart) = (home, apart);
                program.show_library(&words)
            }
        };
        (program, task)
    }

    pub(crate) fn title(&self) -> String {
        let title = match &self.screen {
            Screen::Start(_) => "Stillcall".to_owned(),
            Screen::Clip(clip) => clip.title(),
            Screen::Pair(pair) => pair.title(),
            Screen::Practice(practice) => practice.title(),
            Screen::Library(_) => Library::title(),
            Screen::BookAsked(_) => "Rule book · Stillcall".to_owned(),
            Screen::Book(forms) => forms.title(),
        };
        visible(&title).into_owned()
    }

    pub(crate) fn theme(&self) -> Theme {
        self.theme.clone()
    }

    pub(crate) fn update(&mut self, message: Message) -> Task<Message> {
        match message {
            Message::KeyPressed(event) => self.key_pressed(event),
            Message::Walked(event, walked) => self.walked(event, walked),
            Message::Typed(typed) => self.typed(typed),
            Message::FileDropped(path) => Self::look_at_dropped(path),
            Message::DroppedLookedAt(path, is_folder) => self.dropped(path, is_folder),
            Message::Resized(id, size) => self.resized(id, size),
            Message::Maximized(is) => self.maximized(is),
            Message::CloseAsked(id) => self.close(id),
            Message::Start(message) => self.start(message),
            Message::Clip(message) => self.clip(message),
            Message::Pair(message) => self.pair(message),
            Message::Practice(message) => self.practice(message),
            Message::Library(message) => self.library(message),
            Message::BookAsked(message) => self.book_asked(message),
            Message::Book(message) => self.book(message),
            Message::BookOpened(path, opened) => self.book_opened(&path, opened),
            Message::Opened(path, opened) => self.opened(&path, opened),
            Message::SetLookedFor(path, is_set) => self.set_looked_for(path, is_set),
            Message::SetOpened(path, opened) => self.set_opened(&path, opened),
            Message::Compared(path, compared) => self.compared(&path, compared),
            Message::DemoDrawn(drawn) => self.demo_drawn(drawn),
            Message::DueCounted(due) => {
                self.due = due;
                Task::none()
            }
        }
    }

    pub(crate) fn view(&self) -> Element<'_, Message> {
        match &self.screen {
            Screen::Start(start) => start.view(&self.memory, self.due).map(Message::Start),
            Screen::Clip(clip) => clip.view().map(Message::Clip),
            Screen::Pair(pair) => pair.view().map(Message::Pair),
            Screen::Practice(practice) => practice.view().map(Message::Practice),
            Screen::Library(library) => library.view().map(Message::Library),
            Screen::BookAsked(begin) => begin.view(&self.memory.books).map(Message::BookAsked),
            Screen::Book(forms) => forms.view().map(Message::Book),
        }
    }

    pub(crate) fn subscription(&self) -> Subscription<Message> {
        let screen = match &self.screen {
            Screen::Start(_) | Screen::BookAsked(_) | Screen::Book(_) => Subscription::none(),
            Screen::Clip(clip) => clip.subscription().map(Message::Clip),
            Screen::Pair(pair) => pair.subscription().map(Message::Pair),
            Screen::Practice(practice) => practice.subscription().map(Message::Practice),
            Screen::Library(library) => library.subscription().map(Message::Library),
        };
        let closing = window::close_requests().map(Message::CloseAsked);
        Subscription::batch([event::listen_with(heard), closing, screen])
    }
}
