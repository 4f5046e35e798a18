//! The report on agreement in the window: the same numbers and charts as on its page.

mod chart;
mod view;

use iced::{
    Task, keyboard,
    widget::{
        Id,
        operation::{AbsoluteOffset, scroll_by},
    },
};

use crate::{
    practice::{
        agreement::Agreement,
        gather::{self, Wanted},
    },
    window::keymap::{self, Command},
};

use super::Action;

/// Name of the part that is scrolled.
const PAPER: &str = "agreement";
/// How far a key moves the paper, in logical pixels.
const STEP: f32 = 120.0;

/// The screen.
pub(crate) struct Report {
    report: Agreement,
}

/// What happened on it.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Message {
    /// A button or a key stands for a command.
    Asked(Command),
}

impl Report {
    /// Reads and compares what is wanted. Slow: not for the thread of the window.
    pub(crate) fn open(wanted: &Wanted) -> Result<Self, String> {
        let report =
            gather::gather(wanted).map_err(|error| format!("{:#}", anyhow::Error::new(error)))?;
        Ok(Self { report })
    }

    /// Returns the window's title.
    pub(crate) fn title(&self) -> String {
        format!("Agreement with {} · Stillcall", self.report.reference)
    }
}

/// Takes a key.
pub(crate) fn key_pressed(event: &keyboard::Event) -> Action {
    keymap::command_in_sitting(event)
        .map_or(Action::None, |command| update(Message::Asked(command)))
}

/// Does what a message asks for; the report itself never changes.
pub(crate) fn update(message: Message) -> Action {
    let Message::Asked(command) = message;
    match command {
        Command::Leave => Action::Leave,
        Command::TurnAnswer(by) => {
            let offset = AbsoluteOffset { x: 0.0, y: f32::from(by) * STEP };
            let moving: Task<Message> = scroll_by(Id::new(PAPER), offset);
            Action::Run(moving.map(super::Message::Agreement))
        }
        _ => Action::None,
    }
}
