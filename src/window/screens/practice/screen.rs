//! The screens of practice as one: which of them is shown, and what happens on it.

use iced::{Element, Subscription, Task, keyboard};

use super::{
    action::Action,
    agreement::{self, Report},
    begin::{self, Begin},
    eye::{self, Eye, EyeWanted},
    loaded::{Loaded, SittingWanted},
    sitting::{self, Sitter, sit},
};
use crate::{
    practice::{gather, set, sitting::all_of},
    window::{controls::Tab, typing::Typed},
};

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

/// Returns the screen that trains the eye; `last` is the code that is offered.
pub(crate) fn train(wanted: EyeWanted, last: &str) -> Practice {
    Practice::Eye(Box::new(Eye::new(wanted, last)))
}

/// Reads the set and opens the sitting where it is known who sits. Slow: not for the thread of the
/// window. `last` is the code that is offered.
pub(crate) fn open(wanted: &SittingWanted, last: &str) -> Result<Practice, String> {
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
pub(crate) fn compare(wanted: &gather::AgreementWanted) -> Result<Practice, String> {
    Report::open(wanted).map(|report| Practice::Agreement(Box::new(report)))
}

impl Practice {
    /// Returns what Tab does: it goes through the answers of a slip.
    pub(crate) fn tab(&self) -> Tab {
        match self {
            Self::Sitting(sitter) => sitter.tab(),
            Self::Begin(_) | Self::Eye(_) | Self::Agreement(_) => Tab::Everything,
        }
    }

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
    pub(crate) fn update(&mut self, message: Message) -> Action<Message> {
        match (&mut *self, message) {
            (Self::Begin(begin), Message::KeyPressed(event)) => {
                let message = begin::message_for(&event);
                message.map_or(Action::None, |message| asked_by_form(begin.update(message)))
            }
            (Self::Begin(begin), Message::Typed(typed)) => {
                asked_by_form(begin.update(begin::Message::Typed(typed)))
            }
            (Self::Begin(begin), Message::Begin(message)) => asked_by_form(begin.update(message)),
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
            (Self::Sitting(sitter), Message::KeyPressed(event)) => {
                sitter.key_pressed(&event).map(Message::Sitting)
            }
            (Self::Sitting(sitter), Message::Typed(typed)) => {
                sitter.update(sitting::Message::Typed(typed)).map(Message::Sitting)
            }
            (Self::Sitting(sitter), Message::Sitting(message)) => {
                sitter.update(message).map(Message::Sitting)
            }
            (Self::Eye(eye), Message::KeyPressed(event)) => {
                eye.key_pressed(&event).map(Message::Eye)
            }
            (Self::Eye(eye), Message::Typed(typed)) => {
                eye.update(eye::Message::Typed(typed)).map(Message::Eye)
            }
            (Self::Eye(eye), Message::Eye(message)) => eye.update(message).map(Message::Eye),
            (Self::Agreement(_), Message::KeyPressed(event)) => {
                agreement::key_pressed(&event).map(Message::Agreement)
            }
            (Self::Agreement(_), Message::Agreement(message)) => {
                agreement::update(message).map(Message::Agreement)
            }
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

/// Does what the form asks for.
fn asked_by_form(asked: begin::Asked) -> Action<Message> {
    match asked {
        begin::Asked::Nothing => Action::None,
        begin::Asked::Run(task) => Action::Run(task.map(Message::Begin)),
        begin::Asked::Sit(loaded, person, mode) => {
            let opening = tokio::task::spawn_blocking(move || sit(&loaded, &person, mode));
            Action::Run(Task::perform(opening, |opened| {
                Message::Opened(opened.unwrap_or_else(|error| Err(error.to_string())))
            }))
        }
        begin::Asked::Compare(wanted) => Action::Compare(wanted),
        begin::Asked::Leave => Action::Leave,
    }
}
