//! How keys are called on the help sheet and in tooltips.

use iced::keyboard::key::Named;

use super::binding::{Binding, Cap, Command, Held, Line};

/// Returns the line of a command's first key in a table.
pub(super) fn line_in<C: PartialEq>(table: &[Binding<C>], command: &C) -> Option<Line> {
    let binding = table.iter().find(|binding| binding.command == *command)?;
    Some(Line { key: name_of(binding), says: binding.says })
}

/// Returns the first key of a command, as the help sheet names it; empty where it has none.
pub(crate) fn key_of(command: impl Command) -> String {
    command.line().map(|line| line.key).unwrap_or_default()
}

/// Returns what a command does and its key, for a tooltip.
pub(crate) fn tip(command: impl Command) -> String {
    command.line().map(|line| format!("{} · {}", line.says, line.key)).unwrap_or_default()
}

/// Returns how a key is called on the help sheet.
pub(super) fn name_of<C>(binding: &Binding<C>) -> String {
    let key = match binding.cap {
        Cap::Named(Named::ArrowRight) => "→".to_owned(),
        Cap::Named(Named::ArrowLeft) => "←".to_owned(),
        Cap::Named(Named::ArrowUp) => "↑".to_owned(),
        Cap::Named(Named::ArrowDown) => "↓".to_owned(),
        Cap::Named(Named::PageDown) => "Page down".to_owned(),
        Cap::Named(Named::PageUp) => "Page up".to_owned(),
        Cap::Named(Named::Escape) => "Esc".to_owned(),
        Cap::Named(named) => format!("{named:?}"),
        Cap::Writes(c) => c.to_uppercase().to_string(),
    };
    let held = match binding.held {
        Held::Nothing => "",
        Held::Shift => "Shift ",
        Held::Ctrl => "Ctrl ",
        Held::CtrlShift => "Ctrl Shift ",
    };
    format!("{held}{key}")
}
