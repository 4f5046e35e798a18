//! What happens on the clip screen, and what it asks of the program.

use std::{path::PathBuf, sync::Arc};

use iced::{Task, keyboard, window};

use crate::{
    footage::SourceState,
    marks::{CameraSince, DeskError, Saved, Together},
    rulebook::Book,
    units::FrameIndex,
    window::{
        keymap::{AsideCommand, ClipCommand, Everywhere},
        paper::Key,
        placing::PlaneMessage,
        screens::{practice::SittingWanted, record::RecordMessage},
        typing::Typed,
        viewer::frame::Told,
    },
};

use super::{
    cutting::CutMessage, errand::ErrandMessage, file::wanted::Wanted, handing::HandMessage,
    meet::MeetMessage, routine::header,
};

/// What happened on the clip screen.
#[derive(Clone, Debug)]
pub(crate) enum Message {
    /// A key was pressed that no field took.
    KeyPressed(keyboard::Event),
    /// A button or a place stands for a command.
    Asked(ClipCommand),
    /// A command was found among all of them.
    Found(ClipCommand),
    /// The picture widget tells something.
    Frame(Told),
    /// A picture or a sheet that was wished for has arrived.
    Arrived,
    /// A frame is pointed at on the clip line, with the hand still moving as a rule.
    FramePointedAt(FrameIndex),
    /// A frame was picked by its small picture.
    FramePicked(FrameIndex),
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
    /// Something was asked for among what was set aside.
    AmongAsides(AsideCommand),
    /// A line there was pressed.
    AsidePressed(usize),
    /// This alone of what differs is to be taken back.
    AsideTaken(usize),
    /// A routine of the clip was pressed.
    RoutinePressed(usize),
    /// Something happened to the form of what is noted of the clip.
    Record(RecordMessage),
    /// Something happened to a file that is made of the clip.
    Errand(ErrandMessage),
    /// The form was used by which a part of the clip is cut out.
    Cut(CutMessage),
    /// The form was used by which what is on screen is handed over.
    HandOver(HandMessage),
    /// Something happened to the form of what the meet gave.
    Meet(MeetMessage),
    /// The form of a plane was used.
    Planes(PlaneMessage),
    /// The pictures of a plane's frame and of a reading's were held against each other.
    CameraCompared(CameraSince),
    /// What several people placed on the same frames was compared.
    ClicksCompared(Vec<Together>),
    /// A time or a frame was written: to go there.
    JumpPressed,
    /// It is time to write what was changed.
    SaveDue,
    /// A save was carried out, or failed.
    Saved(Result<Saved, Arc<DeskError>>),
    /// The complaint was read.
    ComplaintClosed,
    /// Another routine is wanted while the clip lies beside another one.
    RoutineTurned(i8),
    /// The job of this number is done.
    Done(u64),
}

/// What the clip screen asks of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To open another clip, which a person chooses.
    OpenOther,
    /// To open this.
    Open(Wanted),
    /// To open a set of this file.
    OpenSet(PathBuf),
    /// To do this, now that everything is saved.
    Leave(Next),
    /// A command that every screen has.
    Own(Everywhere),
}

impl Action {
    /// Returns it with a task besides; what leaves the screen leaves it without.
    pub(crate) fn and(self, task: Task<Message>) -> Self {
        match self {
            Self::None => Self::Run(task),
            Self::Run(own) => Self::Run(Task::batch([own, task])),
            other => other,
        }
    }
}

/// What comes once the screen is put away.
#[derive(Clone, Debug)]
pub(crate) enum Next {
    /// This is opened.
    Open(Wanted),
    /// This set is opened.
    OpenSet(SittingWanted),
    /// A second clip is shown beside this one.
    LayBeside,
    /// What was there before it is shown again.
    Back,
    /// A folder is taken into the library, which is shown.
    TakeIn(PathBuf),
    /// The window is closed.
    Close(window::Id),
}
