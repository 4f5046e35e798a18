//! What happens on the clip screen, and what it asks of the program.

use std::{path::PathBuf, sync::Arc};

use iced::{Task, keyboard};

use crate::{
    footage::SourceState,
    marks::{DeskError, Saved},
    rulebook::Book,
    window::{
        keymap::{ClipCommand, Everywhere},
        paper::Key,
        placing::PlaneMessage,
        typing::Typed,
        viewer::frame::Told,
    },
};

use super::{file::wanted::Wanted, routine::header};

/// What happened on the clip screen.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// A key was pressed that no field took.
    KeyPressed(keyboard::Event),
    /// A button or a place stands for a command.
    Asked(ClipCommand),
    /// The picture widget tells something.
    Frame(Told),
    /// A picture or a sheet that was wished for has arrived.
    Arrived,
    /// A frame is pointed at on the clip line, with the hand still moving as a rule.
    FramePointedAt(u64),
    /// A frame was picked by its small picture.
    FramePicked(u64),
    /// The paper was moved: how far down it begins now, and how high it is.
    PaperMoved([f32; 2]),
    /// A line of the paper was pressed.
    LinePressed(Key),
    /// A line of the paper was dragged onto another one.
    LineDragged(Key, Key),
    /// An offer of the write line was pressed.
    OfferPressed(usize),
    /// Something was done to the text of the write line, or an input method gave something.
    Typed(Typed),
    /// The header's form was used.
    Header(header::Message),
    /// A rule book of one's own was dropped on the window.
    BookDropped(PathBuf),
    /// The rule book's file was written anew: the book, or what is wrong with it.
    BookChanged(Arc<Result<Book, String>>),
    /// Something became of the clip's file.
    ClipChanged(SourceState),
    /// A routine of the clip was pressed.
    RoutinePressed(usize),
    /// The form of a plane was used.
    Planes(PlaneMessage),
    /// It is time to write what was changed.
    SaveDue,
    /// A save was carried out, or failed.
    Saved(Result<Saved, Arc<DeskError>>),
    /// The complaint was read.
    ComplaintClosed,
    /// The program has something to complain about.
    Complained(String),
}

/// What the clip screen asks of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To open another clip, which a person chooses.
    OpenOther,
    /// To show a second clip beside this one.
    LayBeside,
    /// To open this.
    Open(Wanted),
    /// A command that every screen has.
    Own(Everywhere),
}
