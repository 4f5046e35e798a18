//! What happens while two clips lie side by side, and what it asks of the program.

use std::{path::PathBuf, sync::Arc};

use iced::{Task, keyboard, window};

use crate::{
    marks::{DeskError, Saved},
    units::FrameIndex,
    window::{
        keymap::PairCommand,
        paper::Key,
        screens::clip::{self, Opening},
        typing::Typed,
        viewer::frame::Told,
    },
};

/// One of the two clips.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Which {
    /// The one that was open before.
    First,
    /// The one that was laid beside it.
    Second,
}

impl Which {
    pub(super) const fn other(self) -> Self {
        match self {
            Self::First => Self::Second,
            Self::Second => Self::First,
        }
    }
}

/// What was done with the mouse.
#[derive(Clone, Debug)]
pub(crate) enum Pressed {
    /// A button stands for a command.
    Command(PairCommand),
    /// A picture tells something.
    Frame(Which, Told),
    /// A line of a paper was pressed.
    Line(Which, Key),
    /// A paper was moved: how far down it begins now, and how high it is.
    PaperMoved(Which, [f32; 2]),
    /// A frame is pointed at on a clip's line.
    PointedAt(Which, FrameIndex),
    /// Something was done to the path.
    Typed(Typed),
    /// A recent clip was pressed.
    Recent(PathBuf),
    /// A file is to be chosen in the system's dialogue.
    Dialogue,
    /// One of them is to be shown alone.
    Alone(Which),
    /// Back, or stop what is waited for.
    Leave,
}

/// What happened on the screen.
pub(crate) enum Message {
    /// A key was pressed.
    KeyPressed(keyboard::Event),
    /// Something was written.
    Typed(Typed),
    /// The mouse was used.
    Pressed(Pressed),
    /// A file was chosen or dropped, or none.
    Chosen(Option<PathBuf>),
    /// The second clip was opened, or not.
    Opened(PathBuf, Opening),
    /// A picture of a clip has arrived.
    Arrived(Which),
    /// Something was done for a clip beside the window's thread.
    Clip(Which, clip::Message),
    /// Both were saved before the window closes, or why not.
    PutAway(window::Id, Vec<(Which, Result<Saved, Arc<DeskError>>)>),
}

/// What the screen asks of the program.
pub(crate) enum Action {
    /// Nothing.
    None,
    /// A task of its own.
    Run(Task<Message>),
    /// To show one of the clips alone.
    Alone(Which),
    /// To close the window.
    Close(window::Id),
}
