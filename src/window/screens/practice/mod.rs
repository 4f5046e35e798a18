//! Practice in the window: who sits, the sitting itself, how calls agree, figures for the eye.

mod agreement;
mod begin;
mod eye;
mod sitting;

use std::path::{Path, PathBuf};

use iced::{Element, Subscription, Task, keyboard};

use crate::{
    practice::{
        gather,
        set::{self, Set},
        sitting::{Mode, all_of, go_on_or_begin},
    },
    rulebook::Book,
    window::typing::Typed,
};

use agreement::Report;
use begin::Begin;
use eye::Eye;
pub use eye::Wanted as EyeWanted;
use sitting::Sitter;

/// A set to sit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// The set's file.
    pub set: PathBuf,
    /// Code of the person or group; nothing where the window is to ask.
    pub person: Option<String>,
    /// Who answers.
    pub mode: Mode,
}

impl Wanted {
    /// Returns the wish to sit a set, where the window asks who.
    pub const fn of(set: PathBuf) -> Self {
        Self { set, person: None, mode: Mode::Person }
    }
}

/// A set that was read.
#[derive(Clone, Debug)]
pub(crate) struct Loaded {
    file: PathBuf,
    set: Set,
    book: Book,
    /// What is odd about it, in words; mostly empty.
    warnings: String,
    /// Everybody's sittings of it.
    sittings: Vec<PathBuf>,
}

/// The screens of practice.
pub(crate) enum Practice {
    /// Who sits?
    Begin(Box<Begin>),
    /// The sitting.
    Sitting(Box<Sitter>),
    /// Figures for the eye.
    Eye(Box<Eye>),
    /// How well calls agree.
    Agreement(Box<Report>),
}

/// What happened on them.
pub(crate) enum Message {
    /// A key was pressed.
    KeyPressed(keyboard::Event),
    /// An input method gave something.
    Typed(Typed),
    /// Who sits was asked.
    Begin(begin::Message),
    /// The sitting.
    Sitting(sitting::Message),
    /// Figures for the eye.
    Eye(eye::Message),
    /// How well calls agree.
    Agreement(agreement::Message),
    /// The sitting's file was opened, or not, and why.
    Opened(Result<Box<Sitter>, String>),
}

/// What they ask of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// The start screen.
    Leave,
    /// To show how well these calls agree.
    Compare(gather::Wanted),
}

/// Returns the screen that trains the eye; `last` is the code that is offered.
pub(crate) fn train(wanted: EyeWanted, last: &str) -> Practice {
    Practice::Eye(Box::new(Eye::new(wanted, last)))
}

/// Reads the set and opens the sitting where it is known who sits. Slow: not for the thread of the
/// window. `last` is the code that is offered.
pub(crate) fn open(wanted: &Wanted, last: &str) -> Result<Practice, String> {
    let (set, book, warnings) = set::load(&wanted.set).map_err(|error| error.to_string())?;
    let sittings = all_of(&wanted.set);
    let loaded = Loaded { file: wanted.set.clone(), set, book, warnings, sittings };
    let Some(person) = &wanted.person else {
        return Ok(Practice::Begin(Box::new(Begin::new(loaded, last, wanted.mode))));
    };
    Ok(match sit(&loaded, person, wanted.mode) {
        Ok(sitter) => Practice::Sitting(sitter),
        Err(why) => {
            let begin = Begin::new(loaded, person, wanted.mode);
            Practice::Begin(Box::new(begin.complaining(why)))
        }
    })
}

/// Reads and compares calls. Slow: not for the thread of the window.
pub(crate) fn compare(wanted: &gather::Wanted) -> Result<Practice, String> {
    Report::open(wanted).map(|report| Practice::Agreement(Box::new(report)))
}

/// Returns whether a file is a set, by its heading: rule books are TOML files too.
pub(crate) fn is_set(path: &Path) -> bool {
    let toml = path.extension().is_some_and(|extension| extension == "toml");
    let text = toml.then(|| std::fs::read_to_string(path).ok()).flatten();
    text.is_some_and(|text| text.lines().any(|line| line.trim() == "[set]"))
}

/// Opens the person's sitting; slow.
fn sit(loaded: &Loaded, person: &str, mode: Mode) -> Result<Box<Sitter>, String> {
    let today = crate::library::today().to_string();
    let opened = go_on_or_begin(&loaded.set, &loaded.file, (person, mode), &today);
    let (file, begun, records) = opened.map_err(|error| error.to_string())?;
    Ok(Box::new(Sitter::new(loaded.clone(), file, begun, records)))
}

impl Practice {
    /// Returns the window's title.
    pub(crate) fn title(&self) -> String {
        match self {
            Self::Begin(begin) => begin.title(),
            Self::Sitting(sitter) => sitter.title(),
            Self::Eye(eye) => eye.title(),
            Self::Agreement(report) => report.title(),
        }
    }

    /// Returns what is to be done first.
    pub(crate) fn first(&mut self) -> Task<Message> {
        match self {
            Self::Begin(_) | Self::Agreement(_) => Task::none(),
            Self::Sitting(sitter) => sitter.first().map(Message::Sitting),
            Self::Eye(eye) => eye.first().map(Message::Eye),
        }
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action {
        match (&mut *self, message) {
            (Self::Begin(begin), Message::KeyPressed(event)) => {
                begin::message_for(&event).map_or(Action::None, |message| begin.update(message))
            }
            (Self::Begin(begin), Message::Typed(typed)) => {
                begin.update(begin::Message::Typed(typed))
            }
            (Self::Begin(begin), Message::Begin(message)) => begin.update(message),
            (Self::Begin(begin), Message::Opened(opened)) => match opened {
                Ok(sitter) => {
                    *self = Self::Sitting(sitter);
                    Action::Run(self.first())
                }
                Err(why) => {
                    begin.complain(why);
                    Action::None
                }
            },
            (Self::Sitting(sitter), Message::KeyPressed(event)) => sitter.key_pressed(&event),
            (Self::Sitting(sitter), Message::Typed(typed)) => {
                sitter.update(sitting::Message::Typed(typed))
            }
            (Self::Sitting(sitter), Message::Sitting(message)) => sitter.update(message),
            (Self::Eye(eye), Message::KeyPressed(event)) => eye.key_pressed(&event),
            (Self::Eye(eye), Message::Typed(typed)) => eye.update(eye::Message::Typed(typed)),
            (Self::Eye(eye), Message::Eye(message)) => eye.update(message),
            (Self::Agreement(_), Message::KeyPressed(event)) => agreement::key_pressed(&event),
            (Self::Agreement(_), Message::Agreement(message)) => agreement::update(message),
            // It was meant for a screen that is gone.
            _ => Action::None,
        }
    }

    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        match self {
            Self::Begin(begin) => begin.view().map(Message::Begin),
            Self::Sitting(sitter) => sitter.view().map(Message::Sitting),
            Self::Eye(eye) => eye.view().map(Message::Eye),
            Self::Agreement(report) => report.view().map(Message::Agreement),
        }
    }

    /// Returns what the screen listens to.
    pub(crate) fn subscription(&self) -> Subscription<Message> {
        match self {
            Self::Begin(_) | Self::Agreement(_) => Subscription::none(),
            Self::Sitting(sitter) => sitter.subscription().map(Message::Sitting),
            Self::Eye(eye) => eye.subscription().map(Message::Eye),
        }
    }

    /// Returns whether the window may close; asks first where something would be lost.
    pub(crate) fn put_away(&mut self) -> bool {
        match self {
            Self::Begin(_) | Self::Eye(_) | Self::Agreement(_) => true,
            Self::Sitting(sitter) => sitter.put_away(),
        }
    }

    /// Returns whether everything that was asked for is there.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        match self {
            Self::Begin(_) | Self::Agreement(_) => true,
            Self::Sitting(sitter) => sitter.is_settled(),
            Self::Eye(eye) => eye.is_settled(),
        }
    }

    /// Returns whether a look plays.
    #[cfg(feature = "harness")]
    pub(crate) fn is_playing(&self) -> bool {
        matches!(self, Self::Sitting(sitter) if sitter.is_playing())
    }

    /// Returns the message that time went on.
    #[cfg(feature = "harness")]
    pub(crate) const fn tick(&self) -> Message {
        match self {
            Self::Eye(_) => Message::Eye(eye::Message::Ticked),
            _ => Message::Sitting(sitting::Message::Ticked),
        }
    }

    /// Returns the message that a picture has arrived.
    #[cfg(feature = "harness")]
    pub(crate) fn arrival() -> Message {
        Message::Sitting(sitting::Message::PictureArrived)
    }
}
