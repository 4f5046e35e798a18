//! The list of what was set aside of marks: its commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Command, Group, Line, named, sign},
    names::line_in,
};

use Group::Aside;

/// What keys and buttons of the list ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum AsideCommand {
    /// Chooses another line.
    Line(i8),
    /// Shows the chosen one side by side; in that, takes the chosen line back.
    GoOn,
    /// Takes all of it back.
    TakeBack,
    /// Keeps the marks as they are.
    Keep,
    /// Goes back to the list, and out of it.
    Leave,
}

impl Command for AsideCommand {
    fn line(self) -> Option<Line> {
        line_in(KEYS, &self)
    }
}

/// What keys do in it; the rest does nothing.
pub(crate) const KEYS: &[Binding<AsideCommand>] = &[
    named(Named::ArrowDown, AsideCommand::Line(1), Aside, "next line").again(),
    named(Named::ArrowUp, AsideCommand::Line(-1), Aside, "line before").again(),
    named(
        Named::Enter,
        AsideCommand::GoOn,
        Aside,
        "show it beside the marks; there, take the chosen line back",
    ),
    sign('t', AsideCommand::TakeBack, Aside, "take all of it back, as one step"),
    sign('k', AsideCommand::Keep, Aside, "keep the marks as they are: it is settled"),
    named(Named::Escape, AsideCommand::Leave, Aside, "back; close"),
];
