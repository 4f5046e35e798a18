//! Handing a bundle out and taking one in: the commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Command, Group, Line, ctrl, named},
    names::line_in,
};

use Group::Hand;

/// What keys and buttons ask for while a bundle is handed out or taken in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum HandCommand {
    /// Does the next thing: shows what would go, asks where it goes, takes it in.
    GoOn,
    /// Chooses another purpose, or another folder.
    Choose(i8),
    /// Keeps the sound of clips, or leaves it out.
    Sound,
    /// Shows what is noted of the first clip that may not go.
    Record,
    /// Stops what is under way; leaves.
    Leave,
}

impl Command for HandCommand {
    fn line(self) -> Option<Line> {
        line_in(KEYS, &self)
    }
}

/// What keys do then; everything else is written.
pub(crate) const KEYS: &[Binding<HandCommand>] = &[
    named(Named::Enter, HandCommand::GoOn, Hand, "go on: what would go, where to, take it in"),
    named(Named::ArrowDown, HandCommand::Choose(1), Hand, "next purpose, next folder"),
    named(Named::ArrowUp, HandCommand::Choose(-1), Hand, "purpose before, folder before"),
    ctrl('u', HandCommand::Sound, Hand, "keep the sound of the clips, or leave it out"),
    ctrl('e', HandCommand::Record, Hand, "what is noted of the first clip that stays behind"),
    named(Named::Escape, HandCommand::Leave, Hand, "stop; leave"),
];
