//! Pages of the rule book over the clip: the judge's card, and the elements of the event.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{column, container, row, scrollable},
};

use crate::{
    report::{self, Document},
    rulebook::Book,
    window::{
        controls::button,
        document,
        keymap::{ClipCommand, Steady},
        screens::clip::Message,
        theme::{self, part, size, text},
    },
};

/// A page of the rule book.
#[derive(Debug)]
pub(crate) struct Page(Document);

impl Page {
    pub(crate) fn card(book: &Book, event: &str, division: &str) -> Option<Self> {
        report::card(book, event, division).map(|card| Self(card.document()))
    }

    pub(crate) fn chart(book: &Book, event: &str, _division: &str) -> Option<Self> {
        report::chart(book, event).map(Self)
    }

    /// Draws the page.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let page = &self.0;
        let (aside, body) = (page.head.join(" · "), document::parts(&page.parts));
        let heading = column![
            text(page.title.clone()).size(size::LEAD).font(theme::STRONG),
            text(aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
        ]
        .width(Length::Fill);
        let close = button("Close (Esc)")
            .style(theme::other_button)
            .on_press(Message::Asked(ClipCommand::Steady(Steady::Leave)));
        let head = row![heading, close].align_y(Alignment::Center);
        let body = container(body).padding(Padding::ZERO.right(theme::space::LARGE));
        let page = column![head, scrollable(body).id(SHEET).style(theme::lane)];
        container(page.spacing(theme::space::MIDDLE))
            .width(part::PAGE)
            .padding(theme::space::LARGE)
            .style(theme::sheet)
            .into()
    }
}

/// Id of the lane in which a page is moved.
pub(crate) const SHEET: &str = "sheet";
