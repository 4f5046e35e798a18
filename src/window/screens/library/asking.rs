//! A name, or settings, asked for on one line.

use iced::keyboard::{Event, Key, key::Named};

use crate::window::typing::Line;

/// What is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// The name of a search that is kept.
    Search,
    /// The name of a set.
    Set,
    /// Settings for everything that was found.
    Settings,
}

/// The line on which it is asked.
#[derive(Debug)]
pub(crate) struct Asking {
    /// What is asked for.
    pub what: What,
    /// What is written.
    pub line: Line,
}

impl What {
    /// Returns the question.
    pub(crate) const fn says(self) -> &'static str {
        match self {
            Self::Search => "Keep this search as",
            Self::Set => "Make a set of all that is found, called",
            Self::Settings => "For all that is found fill in",
        }
    }

    /// Returns what may be written.
    pub(crate) const fn hint(self) -> &'static str {
        match self {
            Self::Search => "Casts near horizontal",
            Self::Set => "Bars, first looks",
            Self::Settings => "event bars division redshank date 2026-10-17 judge J-2",
        }
    }
}

/// Returns whether a key answers or leaves; every other one is written.
pub(crate) fn takes(event: &Event) -> bool {
    let Event::KeyPressed { key, .. } = event else { return false };
    matches!(key, Key::Named(Named::Enter | Named::Escape))
}
