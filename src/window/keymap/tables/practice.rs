//! Practice: the commands of its screens and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Command, Group, Held, Line, named, with},
    names::line_in,
};

use Group::Practice;
use Held::{Ctrl, Shift};

/// What keys and buttons of a sitting ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SittingCommand {
    /// Does the next thing of a sitting: looks, goes to the next answer, goes on.
    GoOn,
    /// Goes to the next answer, or to the one before.
    TurnAnswer(i8),
    /// Hands the answers in.
    HandIn,
    /// Closes what is open, or gives up what is chosen.
    Leave,
}

impl Command for SittingCommand {
    fn line(self) -> Option<Line> {
        line_in(SITTING_KEYS, &self)
    }
}

/// What keys and buttons ask for while the eye is trained.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EyeCommand {
    /// Takes the answer, goes on.
    GoOn,
    /// Leaves.
    Leave,
}

impl Command for EyeCommand {
    fn line(self) -> Option<Line> {
        line_in(EYE_KEYS, &self)
    }
}

/// What keys and buttons ask for on the report on agreement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ReportCommand {
    /// Moves the paper down or up.
    Move(i8),
    /// Leaves.
    Leave,
}

impl Command for ReportCommand {
    fn line(self) -> Option<Line> {
        line_in(REPORT_KEYS, &self)
    }
}

const GO_ON: &str = "look; next answer; go on";
const NEXT: &str = "next answer";
const BEFORE: &str = "answer before";
const LEAVE: &str = "stop; what is handed in stays";

/// What keys do in a sitting; everything else is written.
pub(crate) const SITTING_KEYS: &[Binding<SittingCommand>] = &[
    named(Named::Enter, SittingCommand::GoOn, Practice, GO_ON),
    named(Named::Tab, SittingCommand::TurnAnswer(1), Practice, NEXT),
    named(Named::ArrowDown, SittingCommand::TurnAnswer(1), Practice, NEXT),
    with(Shift, Named::Tab, SittingCommand::TurnAnswer(-1), Practice, BEFORE),
    named(Named::ArrowUp, SittingCommand::TurnAnswer(-1), Practice, BEFORE),
    with(Ctrl, Named::Enter, SittingCommand::HandIn, Practice, "hand the answers in"),
    named(Named::Escape, SittingCommand::Leave, Practice, LEAVE),
];

/// What keys do while the eye is trained; everything else is written.
pub(crate) const EYE_KEYS: &[Binding<EyeCommand>] = &[
    named(Named::Enter, EyeCommand::GoOn, Practice, GO_ON),
    named(Named::Escape, EyeCommand::Leave, Practice, LEAVE),
];

/// What keys do on the report on agreement.
pub(crate) const REPORT_KEYS: &[Binding<ReportCommand>] = &[
    named(Named::ArrowDown, ReportCommand::Move(1), Practice, NEXT),
    named(Named::ArrowUp, ReportCommand::Move(-1), Practice, BEFORE),
    named(Named::Escape, ReportCommand::Leave, Practice, LEAVE),
];
