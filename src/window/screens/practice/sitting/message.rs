//! What happens in a sitting.

use std::{path::PathBuf, sync::Arc};

use crate::window::{
    keymap::SittingCommand,
    typing::Typed,
    viewer::{frame::Told, stage::Stage},
};

/// What happened in a sitting.
#[derive(Clone)]
pub(crate) enum Message {
    /// A button stands for a command.
    Asked(SittingCommand),
    /// Something was typed into the answer.
    Typed(Typed),
    /// A field was pointed at.
    PointedAt(usize, Typed),
    /// One of the words to choose from was pressed, in this field.
    Chosen(usize, &'static str),
    /// A name of the book was pressed.
    Named(String),
    /// The clip of a look is open, or why it is not.
    ClipOpened(String, Result<Arc<Stage>, String>),
    /// A picture that was wished for has arrived.
    PictureArrived,
    /// The picture widget tells something.
    Frame(Told),
    /// What was to be written is on the disk, or why not.
    Kept(Result<(), String>),
    /// The sittings of this person are found, to be compared.
    SittingsFound(Vec<PathBuf>),
    /// It is time to try again.
    AgainDue,
    /// Time went on.
    Ticked,
}
