//! The report as one long paper.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Id, center_x, column, container, row, rule, scrollable},
};

use crate::{
    report,
    window::{
        controls::button,
        document,
        keymap::{self, ReportCommand},
        theme::{self, part, size, text},
    },
};

use super::screen::{Message, PAPER, Report};

impl Report {
    /// Draws the screen.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let page = report::agreement(&self.report);
        let heading = column![
            text(page.title).size(size::LEAD).font(theme::STRONG),
            quiet(page.head.join("; ")),
        ];
        let body = document::parts(&page.parts);
        // The lane of the scroller lies beside the words.
        let room = Padding::ZERO.right(theme::space::LARGE);
        let body = container(body).padding(room).width(Length::Fill);
        let leave = button(text(format!("Close ({})", keymap::key_of(ReportCommand::Leave))));
        let foot = row![
            container(quiet(page.caution)).width(Length::Fill),
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

fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
