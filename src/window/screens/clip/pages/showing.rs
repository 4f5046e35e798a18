//! Showing pages over the clip, and moving them.

use iced::{
    keyboard::{Event, Key, key::Named},
    widget::{operation, scrollable},
};

use super::reference::{Page, SHEET};
use crate::{
    rulebook::Book,
    window::{
        keymap::{self, ClipCommand, Steady, Work},
        screens::clip::{Action, Clip, Dialogue},
    },
};

/// How far a key moves the page, in logical pixels.
const LINE: f32 = 40.0;

/// The same for a key that moves it by a screen.
const SCREEN: f32 = 480.0;

impl Clip {
    /// Shows a page on the routine's event and division; asks for them first where they are not
    /// known.
    pub(crate) fn show_page(&mut self, page: fn(&Book, &str, &str) -> Option<Page>) -> Action {
        self.viewer.stop();
        let (Some(book), Some(routine)) = (self.session.book(), self.routine()) else {
            return self.open_header();
        };
        match page(book, &routine.event, &routine.division) {
            Some(page) => self.dialogue = Dialogue::Page(Box::new(page)),
            None => return self.complain("The book says nothing of this event and division."),
        }
        Action::None
    }

    /// While a page lies over the clip, keys move the page or close it; nothing happens behind it.
    pub(crate) fn key_over_page(&mut self, event: &Event) -> Action {
        let by = match event {
            Event::KeyPressed { key: Key::Named(named), .. } => match named {
                Named::ArrowDown => Some(LINE),
                Named::ArrowUp => Some(-LINE),
                Named::PageDown | Named::Space => Some(SCREEN),
                Named::PageUp => Some(-SCREEN),
                _ => None,
            },
            _ => None,
        };
        if let Some(y) = by {
            let by = scrollable::AbsoluteOffset { x: 0.0, y };
            return Action::Run(operation::scroll_by(SHEET, by));
        }
        let closes = |command: &ClipCommand| {
            let closing = [
                ClipCommand::Steady(Steady::Leave),
                ClipCommand::Steady(Steady::Help),
                ClipCommand::Work(Work::Card),
                ClipCommand::Work(Work::Chart),
            ];
            closing.contains(command)
        };
        let command = keymap::on_clip(event).filter(closes);
        command.map_or(Action::None, |command| self.command(command))
    }
}
