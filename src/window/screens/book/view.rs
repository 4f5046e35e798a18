//! Puts the screen together.

use iced::{
    Alignment, Element, Length,
    widget::{center, column, container, mouse_area, opaque, row, rule, stack},
};

use super::{message::Message, screen::BookForms};
use crate::window::{
    controls::{fence, quiet_button},
    theme::{self, size, text},
};

/// Widths of the tables, of their rows, and of what stands on the other side.
const TABLES: Length = Length::Fixed(150.0);
const ROWS: Length = Length::Fixed(190.0);
const ASIDE: Length = Length::Fixed(270.0);

fn lane(content: Element<'_, Message>, width: Length) -> Element<'_, Message> {
    container(content).width(width).height(Length::Fill).into()
}

impl BookForms {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let line = || rule::vertical(1).style(theme::divider);
        let rows = self.rows().map(|rows| row![lane(rows, ROWS), line()]);
        let body = row![lane(self.tables(), TABLES), line()]
            .push(rows)
            .push(lane(self.form(), Length::Fill))
            .push(line())
            .push(lane(self.aside(), ASIDE));
        let screen = column![self.head(), rule::horizontal(1).style(theme::divider), body];
        let screen = container(screen).width(Length::Fill).height(Length::Fill).style(theme::paper);
        match &self.pasting {
            None => screen.into(),
            Some(pasted) => {
                let dialogue = center(opaque(self.view_pasting(pasted)))
                    .padding(theme::space::WIDE)
                    .style(theme::veil);
                let veil = opaque(mouse_area(dialogue).on_press(Message::PasteLeft));
                stack![screen, fence(veil)].into()
            }
        }
    }

    fn head(&self) -> Element<'_, Message> {
        let title = self.title_of(&crate::rulebook::RowAt::row("book", 0));
        let path = self.book.path.file_name().unwrap_or_default().to_string_lossy();
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
