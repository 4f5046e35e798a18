//! Pages of the rule book over the clip: the judge's card, and the elements of the event.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{button, column, container, row, rule, scrollable, text},
};

use crate::{
    report::{self, Card, Chart, Row, Section},
    rulebook::Book,
    window::{
        keymap::{ClipCommand, Steady},
        screens::clip::Message,
        theme::{self, part, size},
    },
};

/// A page of the rule book.
#[derive(Debug)]
pub(crate) enum Page {
    /// What the book says of one event and division.
    Card(Card),
    /// The elements of an event by division.
    Chart(Chart),
}

impl Page {
    /// Returns the card of an event and division.
    pub(crate) fn card(book: &Book, event: &str, division: &str) -> Option<Self> {
        report::card(book, event, division).map(Self::Card)
    }

    /// Returns the chart of an event.
    pub(crate) fn chart(book: &Book, event: &str, _division: &str) -> Option<Self> {
        report::chart(book, event).map(Self::Chart)
    }

    /// Draws the page.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let (title, aside, body) = match self {
            Self::Card(card) => {
                (&card.title, format!("{} · {}", card.book, card.score), parts(card))
            }
            Self::Chart(chart) => (&chart.event, chart.book.clone(), table(chart)),
        };
        let heading = column![
            text(title).size(size::LEAD).font(theme::STRONG),
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

fn parts(card: &Card) -> Element<'_, Message> {
    column(card.sections.iter().map(section)).spacing(theme::space::LARGE).into()
}

fn section(section: &Section) -> Element<'_, Message> {
    let heading = text(section.title)
        .size(size::SMALL)
        .font(theme::STRONG)
        .style(theme::ink(theme::INK_QUIET));
    column![heading, rule::horizontal(1).style(theme::divider)]
        .extend(section.rows.iter().map(card_row))
        .spacing(theme::space::TIGHT)
        .into()
}

fn card_row(line: &Row) -> Element<'_, Message> {
    let quiet = |said| text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    row![
        container(quiet(&line.shorthand)).width(part::SHORTHAND),
        text(&line.label).width(Length::FillPortion(3)),
        text(&line.says).width(Length::FillPortion(3)),
        container(quiet(&line.page)).width(part::SHORTHAND).align_x(Alignment::End),
    ]
    .spacing(theme::space::SMALL)
    .into()
}

fn table(chart: &Chart) -> Element<'_, Message> {
    let rows = chart.rows.iter().enumerate().map(|(place, cells)| {
        let font = if place == 0 { theme::STRONG } else { theme::FONT };
        let cell = |(column, cell)| {
            let width = match column {
                0 => Length::Fixed(part::SHORTHAND),
                1 => Length::FillPortion(4),
                _ => Length::FillPortion(1),
            };
            let said: &String = cell;
            text(said).font(font).size(size::SMALL).width(width).into()
        };
        row(cells.iter().enumerate().map(cell)).spacing(theme::space::SMALL).into()
    });
    column(rows).spacing(theme::space::TIGHT).into()
}
