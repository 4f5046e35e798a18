//! Everything that happens to the program.

use std::path::PathBuf;

use iced::{Event, Size, advanced::input_method, event, keyboard, window};

use crate::{
    rulebook::OpenedBook,
    window::{
        screens::{
            book,
            clip::{self, Opening},
            library, pair,
            practice::{self, Practice},
            start,
        },
        typing::Typed,
    },
};

/// Everything that happens.
pub(crate) enum Message {
    KeyPressed(keyboard::Event),
    /// Tab went to a button, or what follows is for the screen to say.
    Walked(keyboard::Event, bool),
    /// What an input method gives, or is composing.
    Typed(Typed),
    FileDropped(PathBuf),
    /// What was dropped is a folder, or not.
    DroppedLookedAt(PathBuf, bool),
    Resized(window::Id, Size),
    Maximized(bool),
    CloseAsked(window::Id),
    Start(start::Message),
    Clip(clip::Message),
    Pair(pair::Message),
    Practice(practice::Message),
    Library(library::Message),
    BookAsked(book::BeginMessage),
    Book(book::Message),
    BookOpened(PathBuf, Result<OpenedBook, String>),
    Opened(PathBuf, Opening),
    SetLookedFor(PathBuf, bool),
    SetOpened(PathBuf, Result<Practice, String>),
    Compared(PathBuf, Result<Practice, String>),
    DemoDrawn(Result<PathBuf, String>),
    DueCounted(usize),
}

/// Picks out of everything that happens what the program listens to.
pub(crate) fn heard(event: Event, status: event::Status, id: window::Id) -> Option<Message> {
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
        (Event::Window(window::Event::Resized(size)), _) => Some(Message::Resized(id, size)),
        _ => None,
    }
}
