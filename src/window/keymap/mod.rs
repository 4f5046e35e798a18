//! Keys and what they do.
//!
//! One table feeds the handler, the help sheet, the tooltips and the page of keys in docs.

mod command;
mod page;
mod table;
#[cfg(test)]
mod tests;

use iced::keyboard::{Event, Key, Modifiers, key::Named};

pub(super) use command::Command;
pub(super) use page::lines;
pub(super) use table::{KEYMAP, LIBRARY_KEYS, PAIR_KEYS, POINT_KEYS, SITTING_KEYS, START_KEYS};

/// Which keys beside the key itself are held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Held {
    /// None.
    Nothing,
    /// Shift.
    Shift,
    /// Ctrl, or Command on a Mac.
    Ctrl,
    /// Both.
    CtrlShift,
}

/// A key as the table names it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cap {
    /// A key with a name.
    Named(Named),
    /// A key that writes; a letter stands for the key, a sign for what is written.
    Writes(char),
}

/// One line of the table.
#[derive(Clone, Copy, Debug)]
pub(super) struct Binding {
    /// What must be held.
    pub held: Held,
    /// The key.
    pub cap: Cap,
    /// What it does.
    pub command: Command,
    /// Under which heading of the help sheet it stands.
    pub group: Group,
    /// What the help sheet says.
    pub says: &'static str,
}

/// A heading of the help sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Group {
    /// Choosing a clip.
    Start,
    /// The wall of clips.
    Library,
    /// Going through the clip.
    Clip,
    /// Looking at the picture.
    Picture,
    /// The commonest moments.
    Moments,
    /// Writing, choosing, changing.
    Paper,
    /// While the points of an angle or plane are placed.
    Points,
    /// What is judged.
    Routine,
    /// Two clips side by side.
    Pair,
    /// Calling from one look.
    Practice,
    /// Everything else.
    Program,
}

impl Group {
    /// All headings in the order of the help sheet.
    pub(super) const ALL: [Self; 11] = [
        Self::Start,
        Self::Library,
        Self::Clip,
        Self::Picture,
        Self::Moments,
        Self::Paper,
        Self::Points,
        Self::Routine,
        Self::Pair,
        Self::Practice,
        Self::Program,
    ];

    /// Returns the heading.
    pub(super) const fn title(self) -> &'static str {
        match self {
            Self::Start => "The start screen",
            Self::Library => "The library",
            Self::Clip => "Going through the clip",
            Self::Picture => "Looking at the picture",
            Self::Moments => "One key, one moment, at the frame on screen",
            Self::Paper => "The paper",
            Self::Points => "While points are placed",
            Self::Routine => "The routine",
            Self::Pair => "Two clips side by side",
            Self::Practice => "Practice: one look, and figures for the eye",
            Self::Program => "The program",
        }
    }
}

/// Returns what a key event asks for; nothing when it asks for nothing.
///
/// Events that a field has captured never come here, so letters are safe while someone writes.
pub(super) fn command_for(event: &Event) -> Option<Command> {
    find(KEYMAP, event)
}

/// Returns what a key event asks for while points are placed.
pub(super) fn command_while_placing(event: &Event) -> Option<Command> {
    find(POINT_KEYS, event).or_else(|| command_for(event).filter(|it| fits_placing(*it)))
}

/// Returns what a key event asks for on the start screen; everything else is written or picks.
pub(super) fn command_at_start(event: &Event) -> Option<Command> {
    find(START_KEYS, event)
}

/// Returns what a key event asks for on the wall of clips; everything else is written.
pub(super) fn command_in_library(event: &Event) -> Option<Command> {
    find(LIBRARY_KEYS, event)
}

/// Returns what a key event asks for in a sitting; everything else is written into the answer.
pub(super) fn command_in_sitting(event: &Event) -> Option<Command> {
    find(SITTING_KEYS, event)
}

/// Returns what a key event asks for while two clips lie side by side.
pub(super) fn command_in_pair(event: &Event) -> Option<Command> {
    find(PAIR_KEYS, event).or_else(|| command_for(event).filter(|it| fits_pair(*it)))
}

/// Two clips are looked at; what is written of them is written on their own screens.
const fn fits_pair(command: Command) -> bool {
    matches!(
        command,
        Command::Step(_)
            | Command::First
            | Command::Last
            | Command::Play
            | Command::Speed(_)
            | Command::NextMark
            | Command::MarkBefore
            | Command::ZoomIn
            | Command::ZoomOut
            | Command::Fit
            | Command::OneToOne
            | Command::Pan(..)
            | Command::TurnRoutine(_)
            | Command::Open
    )
}

/// Nothing of the paper may happen by accident while points are placed.
const fn fits_placing(command: Command) -> bool {
    matches!(
        command,
        Command::ZoomIn
            | Command::ZoomOut
            | Command::Fit
            | Command::OneToOne
            | Command::Asked
            | Command::Undo
            | Command::Redo
            | Command::Save
            | Command::NextLook
            | Command::TextSize(_)
            | Command::Help
            | Command::Leave
            | Command::CallMet
            | Command::CallNotMet
            | Command::CallCantTell
    )
}

fn find(table: &[Binding], event: &Event) -> Option<Command> {
    let Event::KeyPressed { key, modified_key, physical_key, modifiers, repeat, .. } = event else {
        return None;
    };
    let held = held(*modifiers)?;
    let letter = key.to_latin(*physical_key).map(|letter| letter.to_ascii_lowercase());
    let sign = written(modified_key);
    let binding = table.iter().find(|binding| match binding.cap {
        Cap::Named(named) => binding.held == held && *key == Key::Named(named),
        Cap::Writes(c) if c.is_ascii_alphabetic() => binding.held == held && letter == Some(c),
        // Shift belongs to writing a sign on one keyboard and not on the next.
        Cap::Writes(c) => binding.held == without_shift(held) && sign == Some(c),
    })?;
    (!repeat || repeats(binding.command)).then_some(binding.command)
}

/// Returns how a key is called on the help sheet.
pub(super) fn name_of(binding: &Binding) -> String {
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

/// Returns the first key of a command, as the help sheet names it; empty where it has none.
pub(super) fn key_of(command: Command) -> String {
    let mut all = every_table();
    all.find(|binding| binding.command == command).map(name_of).unwrap_or_default()
}

/// Returns what a command does and its key, for a tooltip.
pub(super) fn tip(command: Command) -> String {
    let mut all = every_table();
    let binding = all.find(|binding| binding.command == command);
    binding.map(|it| format!("{} · {}", it.says, name_of(it))).unwrap_or_default()
}

/// Every key of every screen, those of the clip screen first.
fn every_table() -> impl Iterator<Item = &'static Binding> {
    [KEYMAP, START_KEYS, LIBRARY_KEYS, POINT_KEYS, PAIR_KEYS, SITTING_KEYS].into_iter().flatten()
}

fn written(key: &Key) -> Option<char> {
    match key {
        Key::Character(text) => text.chars().next(),
        _ => None,
    }
}

fn held(modifiers: Modifiers) -> Option<Held> {
    if modifiers.alt() {
        return None;
    }
    Some(match (modifiers.command(), modifiers.shift()) {
        (false, false) => Held::Nothing,
        (false, true) => Held::Shift,
        (true, false) => Held::Ctrl,
        (true, true) => Held::CtrlShift,
    })
}

const fn without_shift(held: Held) -> Held {
    match held {
        Held::Nothing | Held::Shift => Held::Nothing,
        Held::Ctrl | Held::CtrlShift => Held::Ctrl,
    }
}

/// A key held down may step on and on, but must not put one fall after the other.
const fn repeats(command: Command) -> bool {
    matches!(
        command,
        Command::Step(_)
            | Command::Nudge(..)
            | Command::ZoomIn
            | Command::ZoomOut
            | Command::Pan(..)
            | Command::NextLine
            | Command::LineBefore
            | Command::NextMark
            | Command::MarkBefore
            | Command::TextSize(_)
            | Command::Undo
            | Command::Redo
            | Command::Tile(..)
    )
}
