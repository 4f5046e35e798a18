//! The start screen: its commands and their keys.

use crate::window::keymap::{
    binding::{Binding, Command, Group, Line, ctrl},
    names::line_in,
};

use Group::Start;

/// What keys and buttons of the start screen ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum StartCommand {
    /// Draws the sample clips and opens one.
    Demo,
    /// Shows figures for the eye.
    TrainEye,
    /// Shows the library.
    Library,
    /// Asks for a rule book of one's own.
    Books,
}

impl Command for StartCommand {
    fn line(self) -> Option<Line> {
        line_in(KEYS, &self)
    }
}

/// What keys do on the start screen; everything else is written into the path.
pub(crate) const KEYS: &[Binding<StartCommand>] = &[
    ctrl('d', StartCommand::Demo, Start, "sample clips"),
    ctrl('e', StartCommand::TrainEye, Start, "train the eye on drawn figures"),
    ctrl('l', StartCommand::Library, Start, "the library: a wall of clips"),
    ctrl('r', StartCommand::Books, Start, "your own rule book, typed in by forms"),
];
