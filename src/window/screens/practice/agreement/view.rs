//! The report as one long paper.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Id, button, center_x, column, container, row, rule, scrollable, text},
};

use crate::{
    report::agreement::{self, NO_RANKING, Piece, Rank, Section},
    window::{
        keymap::{self, ReportCommand},
        theme::{self, part, size},
    },
};

use super::{
    chart::chart,
    screen::{Message, PAPER, Report},
};

impl Report {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let report = &self.report;
        let heading = column![
            text(format!("Agreement with {}", report.reference))
                .size(size::LEAD)
                .font(theme::STRONG),
            quiet(report.books.join("; ")),
        ];
        let body =
            column(agreement::sections(report).into_iter().map(shown)).spacing(theme::space::LARGE);
        // The lane of the scroller lies beside the words.
        let room = Padding::ZERO.right(theme::space::LARGE);
        let body = container(body).padding(room).width(Length::Fill);
        let leave = button(text(format!("Close ({})", keymap::key_of(ReportCommand::Leave))));
        let foot = row![
            container(quiet(format!("{} {NO_RANKING}", report.caution))).width(Length::Fill),
            leave.style(theme::main_button).on_press(Message::Asked(ReportCommand::Leave)),
        ]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::Center);
        let line = || rule::horizontal(1).style(theme::divider);
        let sheet = column![
            heading,
            line(),
            scrollable(body).id(Id::new(PAPER)).height(Length::Fill).style(theme::lane),
            line(),
            foot,
        ]
        .spacing(theme::space::MIDDLE);
        let sheet =
            container(sheet).width(part::PAGE).padding(theme::space::LARGE).style(theme::sheet);
        container(center_x(sheet))
            .height(Length::Fill)
            .padding(theme::space::MIDDLE)
            .style(theme::stage)
            .into()
    }
}

/// One part of the report under its title.
fn shown(section: Section) -> Element<'static, Message> {
    let title = text(section.title).font(theme::STRONG);
    let heading = match section.rank {
        // A new person begins well apart from the one before.
        Rank::Whole => container(
            column![title.size(size::LEAD), rule::horizontal(1).style(theme::divider)]
                .spacing(theme::space::SMALL),
        )
        .padding(Padding::ZERO.top(theme::space::MIDDLE)),
        Rank::Part => container(title),
    };
    let pieces = section.pieces.into_iter().map(|piece| match piece {
        Piece::Said(said) => text(said).into(),
        Piece::Row { name, words } => said(name, words),
        Piece::Chart(drawing) => chart(drawing),
    });
    column![heading, column(pieces).spacing(theme::space::SMALL)]
        .spacing(theme::space::SMALL)
        .into()
}

fn said(name: String, words: String) -> Element<'static, Message> {
    row![
        text(name).width(Length::FillPortion(2)).style(theme::ink(theme::INK_QUIET)),
        text(words).width(Length::FillPortion(5)),
    ]
    .spacing(theme::space::MIDDLE)
    .into()
}

fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
