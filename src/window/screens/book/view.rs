//! Puts the screen together.

use iced::{
    Alignment, Element, Length,
    widget::{center, column, container, mouse_area, opaque, row, rule, stack},
};

use super::{message::Message, screen::BookForms};
use crate::window::{
    controls::quiet_button,
    theme::{self, size, text},
};

/// Width of the tables, and of what stands on the other side, in logical pixels.
const SIDE: f32 = 250.0;

impl BookForms {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let body = row![
            container(self.tables()).width(SIDE).height(Length::Fill),
            rule::vertical(1).style(theme::divider),
            container(self.form()).width(Length::Fill).height(Length::Fill),
            rule::vertical(1).style(theme::divider),
            container(self.aside()).width(SIDE * 1.15).height(Length::Fill),
        ];
        let screen = column![self.head(), rule::horizontal(1).style(theme::divider), body];
        let screen = container(screen).width(Length::Fill).height(Length::Fill).style(theme::paper);
        match &self.pasting {
            None => screen.into(),
            Some(pasted) => {
                let dialogue = center(opaque(self.view_pasting(pasted)))
                    .padding(theme::space::WIDE)
                    .style(theme::veil);
                let veil = opaque(mouse_area(dialogue).on_press(Message::PasteLeft));
                stack![screen, veil].into()
            }
        }
    }

    fn head(&self) -> Element<'_, Message> {
        let title = self.title_of(&crate::rulebook::RowAt::row("book", 0));
        let path = self.book.path.display().to_string();
        let saved = match (&self.said, self.is_saving) {
            (Some(said), _) => said.clone(),
            (None, true) => "Saving …".to_owned(),
            (None, false) => "Saved".to_owned(),
        };
        let words = column![
            text(title).size(size::LEAD).font(theme::STRONG),
            text(format!("{path} · {saved}")).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        ]
        .width(Length::Fill);
        row![
            quiet_button("‹ Start (Esc)", Message::Leave),
            words,
            quiet_button("Undo (Ctrl Z)", Message::Undo),
            quiet_button("Redo (Ctrl Y)", Message::Redo),
        ]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::Center)
        .padding(theme::space::SMALL)
        .into()
    }
}
