//! What happens in the form.

use iced::keyboard::{Event, Key, key::Named as Cap};

use super::{form::Field, named::Named};
use crate::window::typing::{self, Typed};

/// What happened in the form.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// A book was chosen by its place in the list.
    BookChosen(usize),
    /// The next book, or the one before, was asked for.
    BookTurned(isize),
    /// A book of one's own is to be chosen.
    BookAsked,
    /// A book of one's own was read, or could not be; nothing when none was chosen.
    BookRead(Option<Result<Box<Named>, String>>),
    /// An event was chosen by its id.
    EventChosen(String),
    /// A division was chosen by its id.
    DivisionChosen(String),
    /// The next event, or the one before, was asked for.
    EventTurned(isize),
    /// The next division, or the one before, was asked for.
    DivisionTurned(isize),
    /// Something was typed into the current field.
    Typed(Typed),
    /// A field was pointed at.
    PointedAt(Field, Typed),
    /// A judge's code was chosen.
    CodeChosen(String),
    /// The field so many places on was asked for.
    FieldTurned(isize),
    /// It is to be taken as it stands.
    Submitted,
    /// The same, with the marks kept elsewhere.
    SubmittedElsewhere,
    /// It is to be left as it was.
    Left,
}

impl Message {
    /// Returns whether it can be done before the books are read.
    pub(crate) const fn needs_no_book(&self) -> bool {
        matches!(self, Self::Typed(_) | Self::PointedAt(..) | Self::FieldTurned(_) | Self::Left)
    }
}

/// Returns what a key means while the form is open.
pub(crate) fn message_for(event: &Event) -> Option<Message> {
    let Event::KeyPressed { key, physical_key, modifiers, .. } = event else { return None };
    let letter = key.to_latin(*physical_key).filter(|_| modifiers.command());
    Some(match key {
        Key::Named(Cap::Escape) => Message::Left,
        Key::Named(Cap::Enter) if modifiers.command() => Message::SubmittedElsewhere,
        Key::Named(Cap::Enter) => Message::Submitted,
        Key::Named(Cap::Tab) if modifiers.shift() => Message::FieldTurned(-1),
        Key::Named(Cap::Tab) => Message::FieldTurned(1),
        Key::Named(Cap::ArrowDown) if modifiers.command() => Message::EventTurned(1),
        Key::Named(Cap::ArrowUp) if modifiers.command() => Message::EventTurned(-1),
        Key::Named(Cap::ArrowDown) => Message::DivisionTurned(1),
        Key::Named(Cap::ArrowUp) => Message::DivisionTurned(-1),
        Key::Named(Cap::PageDown) => Message::BookTurned(1),
        Key::Named(Cap::PageUp) => Message::BookTurned(-1),
        _ if letter == Some('b') => Message::BookAsked,
        _ => Message::Typed(typing::typed(event)?),
    })
}
