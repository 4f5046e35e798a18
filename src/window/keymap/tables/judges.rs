//! Judges of one routine side by side: the commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Command, Group, Held, Line, ctrl, named, sign, with},
    names::line_in,
};

use Group::Judges;

/// What keys and buttons ask for while judges are side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum JudgesCommand {
    /// Chooses another question, so many lines on.
    Row(i8),
    /// Chooses another judge.
    Judge(i8),
    /// Opens what the chosen judge marked, at the chosen question's frame.
    Open,
    /// Shows what their sheets come to together, as a panel.
    Panel,
    /// Puts the chosen judge's answer into the reference that is put together.
    Take,
    /// Begins that anew with what the chosen judge marked.
    Begin,
    /// All agree on what the chosen judge marked.
    Agree,
    /// What the chosen judge marked is the reference, though nobody else agreed.
    Alone,
    /// Back to the wall.
    Leave,
}

impl Command for JudgesCommand {
    fn line(self) -> Option<Line> {
        line_in(KEYS, &self)
    }
}

/// What keys do then.
pub(crate) const KEYS: &[Binding<JudgesCommand>] = &[
    named(Named::ArrowDown, JudgesCommand::Row(1), Judges, "next question").again(),
    named(Named::ArrowUp, JudgesCommand::Row(-1), Judges, "question before").again(),
    named(Named::PageDown, JudgesCommand::Row(10), Judges, "ten questions on").again(),
    named(Named::PageUp, JudgesCommand::Row(-10), Judges, "ten questions back").again(),
    named(Named::ArrowRight, JudgesCommand::Judge(1), Judges, "next judge"),
    named(Named::ArrowLeft, JudgesCommand::Judge(-1), Judges, "judge before"),
    named(
        Named::Enter,
        JudgesCommand::Open,
        Judges,
        "open the chosen judge's marks at the frame of the question",
    ),
    sign('p', JudgesCommand::Panel, Judges, "their sheets together, as the book's panel"),
    sign('t', JudgesCommand::Take, Judges, "take the chosen judge's answer into the reference"),
    sign(
        'b',
        JudgesCommand::Begin,
        Judges,
        "begin the reference anew with the chosen judge's marks",
    ),
    with(
        Held::Ctrl,
        Named::Enter,
        JudgesCommand::Agree,
        Judges,
        "all agree on what the chosen judge marked, or on the reference",
    ),
    ctrl('r', JudgesCommand::Alone, Judges, "the chosen judge's marks alone are the reference"),
    named(Named::Escape, JudgesCommand::Leave, Judges, "back to the wall"),
];
