//! What happens while a book is typed in.

use iced::{Task, keyboard};

use crate::{rulebook::RowAt, window::typing::Typed};

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// A key was pressed.
    KeyPressed(keyboard::Event),
    /// Something was done to the field that is written in.
    Typed(Typed),
    /// Another table is looked at.
    Table(&'static str),
    /// Another row of the table.
    Row(usize),
    /// A field is written in.
    Field(RowAt, &'static str),
    /// A word of a few was pressed: it is taken, or given up.
    Picked(RowAt, &'static str, String),
    /// A name was offered for what is being written.
    Offered(String),
    /// Another row is wanted.
    Add,
    /// Another row inside a row.
    AddInside(RowAt, &'static str),
    /// A row goes.
    Remove(RowAt),
    /// The row goes one place up.
    Raise,
    /// A step back, or one forward again.
    Undo,
    /// The step again.
    Redo,
    /// Rows are to come from the clipboard.
    PasteAsked,
    /// What the clipboard held.
    Pasted(Option<String>),
    /// A column is to mean the next thing.
    Column(usize),
    /// The rows are taken in as elements of this event.
    PasteTaken(String),
    /// They are not.
    PasteLeft,
    /// A finding was pressed.
    Told(usize),
    /// The example is to be of the next event, or the next division.
    ExampleEvent,
    /// The same.
    ExampleDivision,
    /// The text was written to its file, or not.
    Saved(Result<(), String>),
    /// Back.
    Leave,
}

/// What the screen asks of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To go back.
    Leave,
}
