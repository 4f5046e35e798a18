//! The iced program: screens, widgets, keymap and look; the only room that knows iced.

mod arrived;
mod beside;
mod choice;
mod clip;
mod controls;
mod display;
pub mod frame;
#[cfg(feature = "harness")]
pub mod harness;
mod keymap;
mod library;
mod memory;
mod moments;
mod opening;
mod pair;
mod paper;
pub mod playback;
mod points;
pub mod practice;
mod sets;
pub mod stage;
mod start;
mod theme;
mod typing;
mod words;
mod write;

use std::{
    env,
    path::{Path, PathBuf},
};

use iced::{
    Element, Event, Subscription, Task, Theme, advanced::input_method, event, keyboard, window,
};

use clip::Clip;
use keymap::Command;
use library::Library;
use memory::{LastRoutine, Memory};
use opening::{Demo, Opening, Wanted};
use pair::Pair;
use practice::Practice;
use start::{Busy, Start};
use typing::Typed;

use crate::{library::Home, practice::gather};

/// What the window opens on.
#[derive(Clone, Debug)]
pub enum OpensOn {
    /// The start screen.
    Start,
    /// A clip, and marks where they are named.
    Clip(PathBuf, Option<PathBuf>),
    /// A set to sit.
    Set(practice::Wanted),
    /// Figures for the eye.
    Eye(practice::EyeWanted),
    /// How well calls agree.
    Agreement(gather::Wanted),
    /// The library kept here, with these words searched for.
    Library(Option<Home>, String),
}

/// Opens the window and returns when it is closed.
pub fn run(opens_on: OpensOn) -> anyhow::Result<()> {
    let settings = iced::Settings {
        id: Some("stillcall".to_owned()),
        fonts: theme::FONT_FILES.map(Into::into).to_vec(),
        default_font: theme::FONT,
        default_text_size: theme::size::BODY.into(),
        antialiasing: true,
        vsync: true,
    };
    let boot = move || {
        display::reached();
        Program::new(opens_on.clone(), Memory::load())
    };
    let program = iced::application(boot, Program::update, Program::view)
        .title(Program::title)
        .subscription(Program::subscription)
        .theme(Program::theme)
        .scale_factor(|program: &Program| program.memory.scale())
        .settings(settings)
        .window(window::Settings {
            size: iced::Size::new(1440.0, 880.0),
            min_size: Some(iced::Size::new(900.0, 600.0)),
            exit_on_close_request: false,
            ..window::Settings::default()
        });
    display::guarded(|| program.run())
}

struct Program {
    screen: Screen,
    memory: Memory,
    /// The theme made of the look; kept, because it is asked for at each redraw.
    theme: Theme,
    demo: Option<Demo>,
    /// Where the library is kept.
    home: Option<Home>,
    /// Clips of the library that are to be deleted by today.
    due: usize,
    /// File to which the sheet on screen is written, for tests of the whole program.
    shown: Option<PathBuf>,
}

enum Screen {
    Start(Start),
    Clip(Box<Clip>),
    Pair(Box<Pair>),
    Practice(Practice),
    Library(Box<Library>),
}

enum Message {
    KeyPressed(keyboard::Event),
    /// What an input method gives, or is composing.
    Typed(Typed),
    FileDropped(PathBuf),
    CloseAsked(window::Id),
    Start(start::Message),
    Clip(clip::Message),
    Pair(pair::Message),
    Practice(practice::Message),
    Library(library::Message),
    Opened(PathBuf, Opening),
    SetOpened(PathBuf, Result<Practice, String>),
    Compared(PathBuf, Result<Practice, String>),
    DemoDrawn(Result<PathBuf, String>),
    DueCounted(usize),
}

impl Program {
    fn new(opens_on: OpensOn, memory: Memory) -> (Self, Task<Message>) {
        let shown = env::var_os("STILLCALL_SHOWN").map(PathBuf::from);
        let theme = memory.look.theme();
        let screen = Screen::Start(Start::default());
        let mut program =
            Self { screen, memory, theme, demo: None, home: Home::of_user(), due: 0, shown };
        let task = match opens_on {
            OpensOn::Start => program.count_due(),
            OpensOn::Clip(clip, marks) => program.open(Wanted { clip, marks }),
            OpensOn::Set(wanted) => program.open_set(wanted),
            OpensOn::Eye(wanted) => program.train(wanted),
            OpensOn::Agreement(wanted) => program.compare(wanted),
            OpensOn::Library(home, words) => {
                program.home = home;
                program.show_library(&words)
            }
        };
        (program, task)
    }

    fn title(&self) -> String {
        match &self.screen {
            Screen::Start(_) => "Stillcall".to_owned(),
            Screen::Clip(clip) => clip.title(),
            Screen::Pair(pair) => pair.title(),
            Screen::Practice(practice) => practice.title(),
            Screen::Library(_) => Library::title(),
        }
    }

    fn theme(&self) -> Theme {
        self.theme.clone()
    }

    fn update(&mut self, message: Message) -> Task<Message> {
        match message {
            Message::KeyPressed(event) => self.key_pressed(event),
            Message::Typed(typed) => self.typed(typed),
            Message::FileDropped(path) => self.dropped(path),
            Message::CloseAsked(id) => self.close(id),
            Message::Start(message) => self.start(message),
            Message::Clip(message) => self.clip(message),
            Message::Pair(message) => self.pair(message),
            Message::Practice(message) => self.practice(message),
            Message::Library(message) => self.library(message),
            Message::Opened(path, opened) => self.opened(&path, opened),
            Message::SetOpened(path, opened) => self.set_opened(&path, opened),
            Message::Compared(path, compared) => self.compared(&path, compared),
            Message::DemoDrawn(drawn) => self.demo_drawn(drawn),
            Message::DueCounted(due) => {
                self.due = due;
                Task::none()
            }
        }
    }

    fn view(&self) -> Element<'_, Message> {
        match &self.screen {
            Screen::Start(start) => start.view(&self.memory, self.due).map(Message::Start),
            Screen::Clip(clip) => clip.view().map(Message::Clip),
            Screen::Pair(pair) => pair.view().map(Message::Pair),
            Screen::Practice(practice) => practice.view().map(Message::Practice),
            Screen::Library(library) => library.view().map(Message::Library),
        }
    }

    fn subscription(&self) -> Subscription<Message> {
        let screen = match &self.screen {
            Screen::Start(_) => Subscription::none(),
            Screen::Clip(clip) => clip.subscription().map(Message::Clip),
            Screen::Pair(pair) => pair.subscription().map(Message::Pair),
            Screen::Practice(practice) => practice.subscription().map(Message::Practice),
            Screen::Library(library) => library.subscription().map(Message::Library),
        };
        let closing = window::close_requests().map(Message::CloseAsked);
        Subscription::batch([event::listen_with(heard), closing, screen])
    }

    fn key_pressed(&mut self, event: keyboard::Event) -> Task<Message> {
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
    fn dropped(&mut self, path: PathBuf) -> Task<Message> {
        let book = path.extension().is_some_and(|extension| extension == "toml");
        match self.screen {
            Screen::Practice(_) => Task::none(),
            Screen::Pair(_) => self.pair(pair::Message::Chosen(Some(path))),
            _ if practice::is_set(&path) => self.open_set(practice::Wanted::of(path)),
            Screen::Clip(_) if book => self.clip(clip::Message::BookDropped(path)),
            _ => self.open(Wanted { clip: path, marks: None }),
        }
    }

    fn typed(&mut self, typed: Typed) -> Task<Message> {
        match self.screen {
            Screen::Start(_) => self.start(start::Message::Typed(typed)),
            Screen::Clip(_) => self.clip(clip::Message::Typed(typed)),
            Screen::Pair(_) => self.pair(pair::Message::Typed(typed)),
            Screen::Practice(_) => self.practice(practice::Message::Typed(typed)),
            Screen::Library(_) => self.library(library::Message::Typed(typed)),
        }
    }

    /// Does what every screen can do.
    fn own(&mut self, command: Command) -> Task<Message> {
        match command {
            Command::NextLook => self.memory.look = self.memory.look.next(),
            Command::TextSize(steps) => self.memory.resize(steps),
            _ => return Task::none(),
        }
        self.theme = self.memory.look.theme();
        self.memory.keep();
        Task::none()
    }

    fn start(&mut self, message: start::Message) -> Task<Message> {
        // A file may be chosen from the clip screen too, in the same dialogue.
        let action = match (&mut self.screen, message) {
            (Screen::Start(start), message) => start.update(message, &self.memory),
            (_, start::Message::Chosen(Some(path))) => start::Action::Open(path, None),
            _ => start::Action::None,
        };
        match action {
            start::Action::None => Task::none(),
            start::Action::Run(task) => task.map(Message::Start),
            start::Action::Open(set, None) if practice::is_set(&set) => {
                self.open_set(practice::Wanted::of(set))
            }
            start::Action::Open(clip, marks) => self.open(Wanted { clip, marks }),
            start::Action::Demo => self.draw_demo(),
            start::Action::TrainEye => self.train(practice::EyeWanted::of_user(None)),
            start::Action::ShowLibrary(words) => self.show_library(words),
            start::Action::Stop => self.stop_waiting(),
            start::Action::Remember(change) => self.remember(change),
            start::Action::Own(command) => self.own(command),
        }
    }

    fn show_library(&mut self, words: &str) -> Task<Message> {
        let book = self.memory.last.book.clone();
        let (library, first) = Library::open(words, book, self.home.clone());
        self.screen = Screen::Library(Box::new(library));
        first.map(Message::Library)
    }

    fn library(&mut self, message: library::Message) -> Task<Message> {
        let Screen::Library(library) = &mut self.screen else { return Task::none() };
        match library.update(message) {
            library::Action::None => Task::none(),
            library::Action::Run(task) => task.map(Message::Library),
            library::Action::Open(clip, marks) => self.open(Wanted { clip, marks }),
            library::Action::OpenSet(set) => self.open_set(practice::Wanted::of(set)),
            library::Action::Leave => self.stop_waiting(),
        }
    }

    fn remember(&mut self, change: start::Change) -> Task<Message> {
        match change {
            start::Change::Forget => self.memory.forget(),
            start::Change::Turn => self.memory.turn_recent(),
        }
        self.memory.keep();
        Task::none()
    }

    fn clip(&mut self, message: clip::Message) -> Task<Message> {
        let Screen::Clip(clip) = &mut self.screen else { return Task::none() };
        let action = clip.update(message);
        let last = clip.routine().map(LastRoutine::from);
        if let Some(last) = last.filter(|last| *last != self.memory.last) {
            self.memory.last = last;
            self.memory.keep();
        }
        match action {
            clip::Action::None => Task::none(),
            clip::Action::Run(task) => task.map(Message::Clip),
            clip::Action::OpenOther => choice::ask(start::Message::Chosen).map(Message::Start),
            clip::Action::LayBeside => self.lay_beside(),
            clip::Action::Open(wanted) => self.open(wanted),
            clip::Action::Own(command) => self.own(command),
        }
    }

    /// Opens a clip on a thread of its own: counting the frames of a long one takes a while.
    fn open(&mut self, wanted: Wanted) -> Task<Message> {
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

    fn opened(&mut self, path: &Path, opened: Opening) -> Task<Message> {
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

    fn stop_waiting(&mut self) -> Task<Message> {
        // Dropping it stops it.
        self.demo = None;
        self.screen = Screen::Start(Start::default());
        self.count_due()
    }

    fn count_due(&self) -> Task<Message> {
        let home = self.home.clone();
        let counting = tokio::task::spawn_blocking(move || library::due(&home));
        Task::perform(counting, |due| Message::DueCounted(due.unwrap_or(0)))
    }

    fn draw_demo(&mut self) -> Task<Message> {
        let Some(demo) = Demo::begin() else {
            let complaint = "The sample clips could not be drawn here. Try \"stillcall demo\" in a \
                             terminal.";
            self.screen = Screen::Start(Start::complaining(Path::new(""), complaint.to_owned()));
            return Task::none();
        };
        self.screen = Screen::Start(Start::waiting(Busy::Demo));
        let waiting = demo.wait();
        self.demo = Some(demo);
        Task::perform(waiting, Message::DemoDrawn)
    }

    fn demo_drawn(&mut self, drawn: Result<PathBuf, String>) -> Task<Message> {
        if self.demo.take().is_none() {
            // It was stopped meanwhile.
            return Task::none();
        }
        match drawn {
            Ok(clip) => self.open(Wanted { clip, marks: None }),
            Err(complaint) => {
                self.screen = Screen::Start(Start::complaining(Path::new(""), complaint));
                Task::none()
            }
        }
    }

    /// Saves before the window closes; what cannot be saved is in the journal all the same, so a
    /// second request closes.
    fn close(&mut self, id: window::Id) -> Task<Message> {
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

/// Picks out of everything that happens what the program listens to.
fn heard(event: Event, status: event::Status, _: window::Id) -> Option<Message> {
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
