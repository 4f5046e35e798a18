//! Deleting a clip and withdrawing an athlete: the commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Command, Group, Held, Line, named, with},
    names::line_in,
};

use Group::Erase;

/// What keys and buttons ask for while something is to be erased.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum EraseCommand {
    /// Goes to another field or choice.
    Field(i8),
    /// Turns the choice at hand.
    Turn,
    /// Shows what would go.
    Preview,
    /// Does it, after what would go was shown.
    Erase,
    /// Moves what is shown, by lines.
    Scroll(i8),
    /// Leaves without doing anything; stops what is being done.
    Leave,
}

impl Command for EraseCommand {
    fn line(self) -> Option<Line> {
        line_in(KEYS, &self)
    }
}

/// What keys do then; everything else is written into the field at hand.
pub(crate) const KEYS: &[Binding<EraseCommand>] = &[
    named(Named::Tab, EraseCommand::Field(1), Erase, "next field or choice"),
    with(Held::Shift, Named::Tab, EraseCommand::Field(-1), Erase, "field or choice before"),
    named(Named::Space, EraseCommand::Turn, Erase, "turn the choice at hand"),
    named(Named::Enter, EraseCommand::Preview, Erase, "show what would go"),
    with(
        Held::Ctrl,
        Named::Enter,
        EraseCommand::Erase,
        Erase,
        "erase it, once it was shown; Enter alone does not",
    ),
    named(Named::ArrowDown, EraseCommand::Scroll(1), Erase, "further down").again(),
    named(Named::ArrowUp, EraseCommand::Scroll(-1), Erase, "further up").again(),
    named(Named::PageDown, EraseCommand::Scroll(10), Erase, "a page down").again(),
    named(Named::PageUp, EraseCommand::Scroll(-10), Erase, "a page up").again(),
    named(Named::Escape, EraseCommand::Leave, Erase, "leave without doing anything; stop"),
];
