//! The screen: the report itself never changes, only how far it is scrolled.

use iced::{
    keyboard,
    widget::{
        Id,
        operation::{AbsoluteOffset, scroll_by},
    },
};

use crate::{
    practice::{
        agreement::Agreement,
        gather::{self, AgreementWanted},
    },
    window::keymap::{self, ReportCommand},
};

use crate::window::screens::practice::action::Action;

/// Name of the part that is scrolled.
pub(super) const PAPER: &str = "agreement";
/// How far a key moves the paper, in logical pixels.
const STEP: f32 = 120.0;

/// The screen.
pub(crate) struct Report {
    pub(super) report: Agreement,
}

/// What happened on it.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Message {
    /// A button or a key stands for a command.
    Asked(ReportCommand),
}

impl Report {
    /// Reads and compares what is wanted. Slow: not for the thread of the window.
    pub(crate) fn open(wanted: &AgreementWanted) -> Result<Self, String> {
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
pub(crate) fn key_pressed(event: &keyboard::Event) -> Action<Message> {
    keymap::on_report(event).map_or(Action::None, |command| update(Message::Asked(command)))
}

/// Does what a message asks for; the report itself never changes.
pub(crate) fn update(message: Message) -> Action<Message> {
    let Message::Asked(command) = message;
    match command {
        ReportCommand::Leave => Action::Leave,
        ReportCommand::Move(by) => {
            let offset = AbsoluteOffset { x: 0.0, y: f32::from(by) * STEP };
            Action::Run(scroll_by(Id::new(PAPER), offset))
        }
    }
}
