//! Rows out of a spreadsheet: a person says what each column means, and which event they are of.

use iced::{
    Element, Length,
    widget::{column, container, row, scrollable, text::Wrapping},
};

use super::{fields::in_words, message::Message, screen::BookForms};
use crate::{
    rulebook::{Pasted, rows::Space},
    units::counted,
    window::{
        controls::quiet_button,
        theme::{self, part, size, text},
    },
};

/// Rows that are shown.
const SHOWN: usize = 8;
/// Width of a column, in logical pixels.
const COLUMN: f32 = 120.0;

impl BookForms {
    pub(super) fn view_pasting<'a>(&'a self, pasted: &'a Pasted) -> Element<'a, Message> {
        let title = format!("{} from the clipboard", counted(pasted.rows.len(), "row"));
        let columns = pasted.columns.iter().enumerate().map(|(at, key)| {
            let meaning = key.map_or("pass over".to_owned(), in_words);
            let head = quiet_button(meaning, Message::Column(at));
            let cells = pasted.rows.iter().take(SHOWN).map(move |row| {
                let cell = row.get(at).map_or("", String::as_str);
                text(cell).size(size::SMALL).wrapping(Wrapping::None).into()
            });
            let column = column![head].extend(cells).spacing(theme::space::TIGHT);
            container(column.width(COLUMN)).clip(true).into()
        });
        let columns = scrollable(row(columns).spacing(theme::space::SMALL))
            .direction(scrollable::Direction::Horizontal(scrollable::Scrollbar::default()))
            .style(theme::lane);
        let events = self.reading.known.get(&Space::Event).into_iter().flatten();
        let events =
            events.map(|event| quiet_button(event.clone(), Message::PasteTaken(event.clone())));
        let take = row![text("Take them in as elements of:")]
            .extend(events)
            .push(quiet_button("Cancel (Esc)", Message::PasteLeft))
            .spacing(theme::space::SMALL)
            .align_y(iced::Alignment::Center);
        let quiet =
            |said: &'static str| text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
        let said = self.said.as_ref().map(|said| text(said).style(theme::ink(theme::INK_MISSED)));
        let sheet = column![
            text(title).size(size::LEAD).font(theme::STRONG),
            quiet("Press the head of a column until it says what the column holds."),
            columns,
        ]
        .push(said)
        .push(take.wrap())
        .spacing(theme::space::MIDDLE)
        .width(Length::Fill);
        container(sheet).width(part::PAGE).padding(theme::space::LARGE).style(theme::sheet).into()
    }
}
