//! Two clips side by side: their commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Command, Group, Line, named, sign},
    names::line_in,
};

use super::clip::{ClipCommand, Going, View};
use Group::Pair;

/// What is done here alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PairWork {
    /// Ties two clips at the frames on screen, or unties them.
    Tie,
    /// Goes to the other of two clips.
    OtherSide,
    /// Shows one of two clips alone.
    Alone,
    /// Closes what is open, or gives up what is chosen.
    Leave,
}

/// Everything that a key or a button asks for while two clips lie side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PairCommand {
    /// Going through both.
    Going(Going),
    /// Looking at both pictures.
    View(View),
    /// What is done here alone.
    Work(PairWork),
}

impl PairCommand {
    /// Returns what it is of what the clip screen has: two clips are looked at, and what is written
    /// of them is written on their own screens.
    pub(crate) const fn of(command: ClipCommand) -> Option<Self> {
        match command {
            ClipCommand::Going(going) => Some(Self::Going(going)),
            ClipCommand::View(view) => Some(Self::View(view)),
            ClipCommand::Everywhere(_)
            | ClipCommand::Steady(_)
            | ClipCommand::Work(_)
            | ClipCommand::Points(_) => None,
        }
    }
}

impl Command for PairCommand {
    fn line(self) -> Option<Line> {
        match self {
            Self::Going(going) => ClipCommand::Going(going).line(),
            Self::View(view) => ClipCommand::View(view).line(),
            Self::Work(work) => line_in(KEYS, &work),
        }
    }
}

/// What keys do while two clips lie side by side; stepping, marks, playing and looking are as always.
pub(crate) const KEYS: &[Binding<PairWork>] = &[
    sign('t', PairWork::Tie, Pair, "tie them at these frames; untie them"),
    sign('l', PairWork::OtherSide, Pair, "the other clip leads"),
    named(Named::Enter, PairWork::Alone, Pair, "this clip alone"),
    named(Named::Escape, PairWork::Leave, Pair, "back to the first clip"),
];
