//! What happens on the wall of clips, and what it asks of the program.

use std::{path::PathBuf, sync::Arc};

use iced::{Task, keyboard, widget::scrollable};

use crate::{
    library::KnownNames,
    report::Document,
    window::{
        keymap::LibraryCommand,
        screens::{clip::Wanted, record::RecordMessage},
        typing::Typed,
    },
};

use super::{
    erasing::EraseMessage,
    handing::HandMessage,
    jobs::{Failed, FoundPage},
    judges::JudgesMessage,
    taking::TakeMessage,
    tile::Seen,
};

/// What happened on it.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// Something was done to the words, or to the line that asks for a name.
    Typed(Typed),
    /// A key was pressed.
    KeyPressed(keyboard::Event),
    /// A button or a key stands for a command.
    Asked(LibraryCommand),
    /// A condition is put into the words or taken out.
    Turned(String, Vec<String>),
    /// A name that was offered stands for the last word.
    Offered(String),
    /// A saved search is wanted.
    SearchPressed(String),
    /// A tile was pressed.
    TilePressed(u32),
    /// The wall was scrolled.
    Scrolled(scrollable::Viewport),
    /// A page was found.
    Found(u64, u32, Box<Result<FoundPage, Failed>>),
    /// What may follow each word of a search was read.
    Known(Result<KnownNames, String>),
    /// A clip was looked at.
    Seen(u64, u32, Seen),
    /// A folder was chosen, or none.
    FolderChosen(Option<PathBuf>),
    /// The folder was taken in.
    Added(Result<(), String>),
    /// The look through the folders goes on.
    Told,
    /// New clips are known by all of their content, or that was stopped.
    Named(Result<(), String>),
    /// It is over.
    Looked(Result<Option<String>, String>),
    /// Something else was done.
    Done(Result<String, String>),
    /// Something happened while judges of one routine are side by side.
    Judges(JudgesMessage),
    /// A set was made.
    SetMade(Result<(PathBuf, String), String>),
    /// Something happened to the form of what is noted.
    Record(RecordMessage),
    /// Something happened while something is to be erased.
    Erase(EraseMessage),
    /// Several sheets were put together.
    Together(Result<Arc<Document>, String>),
    /// Something happened while a bundle is handed out.
    Hand(HandMessage),
    /// Something happened while a bundle is taken in.
    Take(TakeMessage),
    /// The set that was made is wanted.
    SetPressed(PathBuf),
}

/// What the wall asks of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To open a clip, with marks where there are some.
    Open(PathBuf, Option<PathBuf>),
    /// To open a clip at a frame.
    OpenAt(Wanted),
    /// To open a set.
    OpenSet(PathBuf),
    /// The start screen.
    Leave,
}
