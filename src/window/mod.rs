//! The iced program: screens, widgets, keymap and look; the only room that knows iced.

mod clip;
pub mod frame;
mod keymap;
mod moments;
mod paper;
pub mod playback;
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

use anyhow::Context as _;
use iced::{Element, Event, Subscription, Task, event, keyboard, window};

use crate::marks;
use clip::{Arrived, Clip, Session};
use stage::Stage;
use start::Start;

/// Opens the window, on a clip and on marks where they are given, and returns when it is closed.
pub fn run(clip: Option<PathBuf>, marks: Option<PathBuf>) -> anyhow::Result<()> {
    let wanted = clip.map(|clip| Wanted { clip, marks });
    let settings = iced::Settings {
        id: Some("stillcall".to_owned()),
        fonts: theme::FONT_FILES.map(Into::into).to_vec(),
        default_font: theme::FONT,
        default_text_size: theme::size::BODY.into(),
        antialiasing: true,
        vsync: true,
    };
    iced::application(move || Program::new(wanted.clone()), Program::update, Program::view)
        .title(Program::title)
        .subscription(Program::subscription)
        .theme(|_: &Program| theme::theme())
        .settings(settings)
        .window(window::Settings {
            size: iced::Size::new(1440.0, 880.0),
            min_size: Some(iced::Size::new(900.0, 600.0)),
            exit_on_close_request: false,
            ..window::Settings::default()
        })
        .run()
        .context(
            "the window could not be opened. Is there a display? Without a graphics card, \
             ICED_BACKEND=tiny-skia may help",
        )
}

/// What is to be opened.
#[derive(Clone, Debug)]
struct Wanted {
    clip: PathBuf,
    marks: Option<PathBuf>,
}

struct Program {
    screen: Screen,
    /// File to which the sheet on screen is written, for tests of the whole program.
    shown: Option<PathBuf>,
}

enum Screen {
    Start(Start),
    Clip(Box<Clip>),
}

enum Message {
    KeyPressed(keyboard::Event),
    FileDropped(PathBuf),
    CloseAsked(window::Id),
    Start(start::Message),
    Clip(clip::Message),
    Opened(PathBuf, Result<Box<Clip>, String>),
}

impl Program {
    fn new(wanted: Option<Wanted>) -> (Self, Task<Message>) {
        let shown = env::var_os("STILLCALL_SHOWN").map(PathBuf::from);
        let mut program = Self { screen: Screen::Start(Start::default()), shown };
        let task = match wanted {
            Some(wanted) => program.open(wanted),
            None => Task::none(),
        };
        (program, task)
    }

    fn title(&self) -> String {
        match &self.screen {
            Screen::Start(_) => "Stillcall".to_owned(),
            Screen::Clip(clip) => clip.title(),
        }
    }

    fn update(&mut self, message: Message) -> Task<Message> {
        match message {
            Message::KeyPressed(event) => self.key_pressed(event),
            Message::FileDropped(path) => self.open(Wanted { clip: path, marks: None }),
            Message::CloseAsked(id) => self.close(id),
            Message::Start(message) => self.start(message),
            Message::Clip(message) => self.clip(message),
            Message::Opened(path, opened) => self.opened(&path, opened),
        }
    }

    fn view(&self) -> Element<'_, Message> {
        match &self.screen {
            Screen::Start(start) => start.view().map(Message::Start),
            Screen::Clip(clip) => clip.view().map(Message::Clip),
        }
    }

    fn subscription(&self) -> Subscription<Message> {
        let screen = match &self.screen {
            Screen::Start(_) => Subscription::none(),
            Screen::Clip(clip) => clip.subscription().map(Message::Clip),
        };
        let closing = window::close_requests().map(Message::CloseAsked);
        Subscription::batch([event::listen_with(heard), closing, screen])
    }

    fn key_pressed(&mut self, event: keyboard::Event) -> Task<Message> {
        match self.screen {
            Screen::Start(_) => self.start(start::Message::KeyPressed(event)),
            Screen::Clip(_) => self.clip(clip::Message::KeyPressed(event)),
        }
    }

    fn start(&mut self, message: start::Message) -> Task<Message> {
        // A file may be chosen from the clip screen too, in the same dialogue.
        let action = match (&mut self.screen, message) {
            (_, start::Message::Chosen(Some(path))) => start::Action::Open(path),
            (Screen::Start(start), message) => start.update(message),
            (Screen::Clip(_), _) => start::Action::None,
        };
        match action {
            start::Action::None => Task::none(),
            start::Action::Run(task) => task.map(Message::Start),
            start::Action::Open(clip) => self.open(Wanted { clip, marks: None }),
        }
    }

    fn clip(&mut self, message: clip::Message) -> Task<Message> {
        let Screen::Clip(clip) = &mut self.screen else { return Task::none() };
        match clip.update(message) {
            clip::Action::None => Task::none(),
            clip::Action::Run(task) => task.map(Message::Clip),
            clip::Action::OpenOther => start::ask().map(Message::Start),
        }
    }

    /// Opens a clip on a thread of its own: counting the frames of a long one takes a while.
    fn open(&mut self, wanted: Wanted) -> Task<Message> {
        if let Screen::Clip(clip) = &mut self.screen
            && let Some(complaint) = clip.put_away()
        {
            return self.clip(clip::Message::Complained(complaint));
        }
        self.screen = Screen::Start(Start::opening(wanted.clip.clone()));
        let shown = self.shown.clone();
        let path = wanted.clip.clone();
        let opening = tokio::task::spawn_blocking(move || open(&wanted, shown));
        Task::perform(opening, move |opened| {
            let opened = opened.unwrap_or_else(|error| Err(error.to_string()));
            Message::Opened(path.clone(), opened)
        })
    }

    fn opened(&mut self, path: &Path, opened: Result<Box<Clip>, String>) -> Task<Message> {
        self.screen = match opened {
            Ok(clip) => Screen::Clip(clip),
            Err(complaint) => Screen::Start(Start::complaining(path, complaint)),
        };
        Task::none()
    }

    /// Saves before the window closes; what cannot be saved is in the journal all the same, so a
    /// second request closes.
    fn close(&mut self, id: window::Id) -> Task<Message> {
        if let Screen::Clip(clip) = &mut self.screen
            && let Some(complaint) = clip.put_away()
        {
            return self.clip(clip::Message::Complained(complaint));
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
        (Event::Window(window::Event::FileDropped(path)), _) => Some(Message::FileDropped(path)),
        _ => None,
    }
}

fn open(wanted: &Wanted, shown: Option<PathBuf>) -> Result<Box<Clip>, String> {
    let arrived = Arrived::default();
    let signal = arrived.clone();
    let stage =
        Stage::open(&wanted.clip, move || signal.signal()).map_err(|error| error.to_string())?;
    let (session, complaint) = match marks_of(wanted) {
        // Marks that cannot be read do not keep anybody from watching the clip.
        Some(marks) => match Session::open(&marks, shown.clone()) {
            Ok(session) => (session, None),
            Err(error) => (Session::empty(shown), Some(error.to_string())),
        },
        None => (Session::empty(shown), None),
    };
    Ok(Box::new(Clip::new(stage, arrived, session).complaining(complaint)))
}

/// Returns the marks that are asked for, or those that lie beside the clip where it is plain
/// which.
fn marks_of(wanted: &Wanted) -> Option<PathBuf> {
    wanted.marks.clone().or_else(|| only(&marks::beside(&wanted.clip)))
}

fn only(paths: &[PathBuf]) -> Option<PathBuf> {
    match paths {
        [path] => Some(Path::to_owned(path)),
        _ => None,
    }
}
