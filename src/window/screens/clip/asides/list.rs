//! Draws the list.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row, scrollable, space},
};

use crate::{
    marks::Aside,
    window::{
        controls::{button, quiet_button},
        keymap::{self, AsideCommand},
        screens::clip::{Clip, Message},
        theme::{self, Current, part, size, text},
    },
};

use super::{
    page::AsidesPage,
    shown::{self, quiet},
    words,
};

impl Clip {
    /// Draws what was set aside, or one of it beside the marks.
    pub(crate) fn view_asides(&self, page: AsidesPage) -> Element<'_, Message> {
        match page {
            AsidesPage::List(picked) => self.list(picked),
            AsidesPage::Shown { place, line } => match self.session.asides().get(place) {
                Some(aside) => shown::view(aside, line),
                None => self.list(place),
            },
        }
    }

    fn list(&self, picked: usize) -> Element<'_, Message> {
        let heading = text("Set aside of these marks").size(size::LEAD).font(theme::STRONG);
        let (whose, when) = self.session.routine_in_words();
        let whose = quiet(format!("{whose} · {when}"));
        let asides = self.session.asides();
        let body: Element<'_, Message> = if asides.is_empty() && self.jobs.is_busy() {
            quiet("Looking …".to_owned())
        } else if asides.is_empty() {
            text(
                "Nothing was ever set aside of these marks. Damaged ends of the journal, other \
                 computers' versions and copies that a sync program makes are kept here.",
            )
            .style(theme::ink(theme::INK_QUIET))
            .into()
        } else {
            let lines = asides.iter().enumerate();
            let lines = lines.map(|(place, aside)| line(aside, place, place == picked));
            scrollable(column(lines)).style(theme::lane).into()
        };
        let go_on = keymap::key_of(AsideCommand::GoOn);
        let keys = if asides.is_empty() {
            String::new()
        } else {
            format!("↓ ↑ choose · {go_on} shows it beside the marks")
        };
        let close = format!("Close ({})", keymap::key_of(AsideCommand::Leave));
        let foot = row![
            quiet(keys),
            space().width(Length::Fill),
            quiet_button(close, Message::AmongAsides(AsideCommand::Leave)),
        ]
        .align_y(Alignment::Center);
        let head = column![heading, whose].spacing(theme::space::HAIR);
        container(column![head, body, foot].spacing(theme::space::MIDDLE))
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet)
            .into()
    }
}

fn line(aside: &Aside, place: usize, is_picked: bool) -> Element<'_, Message> {
    let tint: theme::Tint = if aside.has_more() { theme::INK_OPEN } else { theme::INK_QUIET };
    let when = text(words::when(aside.written)).size(size::SMALL);
    let what = row![text(words::title(aside.kind)).width(Length::Fill), when]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center);
    let beyond = text(words::beyond(aside)).size(size::SMALL).style(theme::ink(tint));
    let holds = quiet(format!("holds {}", aside.holds));
    let under = row![container(beyond).width(Length::Fill), holds].spacing(theme::space::SMALL);
    button(column![what, under].spacing(theme::space::HAIR))
        .width(Length::Fill)
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .style(theme::paper_line(Current::from(is_picked)))
        .on_press(Message::AsidePressed(place))
        .into()
}
