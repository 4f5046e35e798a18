//! What went wrong on the clip screen, and what may be done about it.

use iced::{
    Element, Length,
    widget::{column, container, row},
};

use crate::{
    marks::DeskError,
    store::DocumentError,
    window::{
        controls::button,
        keymap::{self, ClipCommand, Work},
        theme::{self, size, text},
        words::sentence,
    },
};

use super::message::Message;

/// Something that went wrong, and what may be done about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Complaint {
    /// What went wrong, in words.
    text: String,
    /// What may be done.
    pub(crate) remedies: Vec<Remedy>,
}

/// Something to do about what went wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Remedy {
    /// The marks are opened as they lie on disk.
    TakeTheirs,
    /// The marks go on in a new file beside the old one.
    KeepBoth,
    /// The marks go on in a file in the user's own folder.
    Elsewhere,
    /// What was set aside is listed.
    ListAsides,
    /// The clip is opened once more, or looked for where it is not to be found.
    OpenAgain,
    /// The marks move to this copy of their clip by their times.
    MoveByTime,
    /// The marks move so that the chosen line comes to the frame on screen.
    MoveChosenHere,
}

impl Remedy {
    const fn says(self) -> &'static str {
        match self {
            Self::TakeTheirs => "Open what is on disk",
            Self::KeepBoth => "Keep mine in a file of its own",
            Self::Elsewhere => "Keep the marks in my own folder",
            Self::ListAsides => "List what was set aside",
            Self::OpenAgain => "Open the clip again",
            Self::MoveByTime => "Move the marks here by their times",
            Self::MoveChosenHere => "The chosen line is on this frame: move all with it",
        }
    }
}

impl Complaint {
    /// Returns a complaint about which nothing can be done but to read it.
    pub(crate) fn new(text: impl Into<String>) -> Self {
        Self { text: text.into(), remedies: Vec::new() }
    }

    /// Returns what went wrong, in words.
    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Returns what to say when marks could not be written.
    pub(crate) fn of(error: &DeskError) -> Self {
        let text = match error {
            // What may be done stands on the buttons.
            DeskError::ChangedOutside { path } => format!(
                "{} was changed by another program while it was open here. Nothing was overwritten.",
                path.file_name().unwrap_or_default().to_string_lossy()
            ),
            _ => sentence(&error.to_string()),
        };
        let remedies = match error {
            DeskError::ChangedOutside { .. } => vec![Remedy::TakeTheirs, Remedy::KeepBoth],
            DeskError::File(DocumentError::Unwritable { .. }) => vec![Remedy::Elsewhere],
            _ => Vec::new(),
        };
        Self { text, remedies }
    }

    /// Returns the complaint with what may be done about it.
    pub(crate) fn with(self, remedies: &[Remedy]) -> Self {
        Self { remedies: remedies.to_vec(), ..self }
    }

    /// Says something else and offers the same.
    pub(crate) fn say(&mut self, text: &str) {
        text.clone_into(&mut self.text);
    }

    /// Draws the complaint.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let small = |label: String, message| {
            button(text(label).size(size::SMALL))
                .padding([theme::space::HAIR, theme::space::SMALL])
                .style(theme::other_button)
                .on_press(message)
        };
        let sign = text("✗").font(theme::STRONG).style(theme::ink(theme::INK_MISSED));
        let remedies = self.remedies.iter().enumerate().map(|(place, remedy)| {
            let command = ClipCommand::Work(Work::Remedy(place as u8));
            let label = format!("{} ({})", remedy.says(), keymap::key_of(command));
            small(label, Message::Asked(command)).into()
        });
        let remedies = row(remedies).push(small("Close".to_owned(), Message::ComplaintClosed));
        let said = column![text(&self.text), remedies.spacing(theme::space::SMALL).wrap()]
            .spacing(theme::space::SMALL)
            .width(Length::Fill);
        container(row![sign, said].spacing(theme::space::SMALL))
            .padding(theme::space::SMALL)
            .style(theme::complaint)
            .into()
    }
}
