//! The sheet of keys, made of the keymap.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Column, button, column, container, row, scrollable},
};

use crate::window::{
    keymap::{self, ClipCommand, Group, Steady},
    screens::clip::Message,
    theme::{self, size, text},
};

use super::reference::SHEET;

/// Width of the column of keys.
const KEYS: f32 = 150.0;
/// Width of the whole sheet.
const WIDTH: f32 = 860.0;

/// Draws the sheet.
pub(crate) fn view<'a>() -> Element<'a, Message> {
    let [
        start,
        library,
        erase,
        clip,
        picture,
        moments,
        paper,
        points,
        routine,
        aside,
        pair,
        practice,
        program,
    ] = Group::ALL.map(group);
    let columns = row![
        column![clip, moments, points, aside, program, library]
            .spacing(theme::space::LARGE)
            .width(Length::Fill),
        column![paper, routine, picture, pair, practice, start, erase]
            .spacing(theme::space::LARGE)
            .width(Length::Fill),
    ]
    .spacing(theme::space::WIDE);
    let columns = container(columns).padding(Padding::ZERO.right(theme::space::LARGE));
    let head = row![
        text("Keys").size(size::LEAD).font(theme::STRONG).width(Length::Fill),
        button("Close")
            .style(theme::other_button)
            .on_press(Message::Asked(ClipCommand::Steady(Steady::Leave))),
    ]
    .align_y(Alignment::Center);
    container(
        column![head, scrollable(columns).id(SHEET).style(theme::lane)]
            .spacing(theme::space::MIDDLE),
    )
    .width(WIDTH)
    .padding(theme::space::LARGE)
    .style(theme::sheet)
    .into()
}

fn group<'a>(group: Group) -> Column<'a, Message> {
    let heading = text(group.title())
        .size(size::SMALL)
        .font(theme::STRONG)
        .style(theme::ink(theme::INK_QUIET));
    let lines = keymap::lines(group).into_iter().map(|(keys, says)| line(says, keys));
    column![heading].extend(lines).spacing(theme::space::TIGHT)
}

fn line(says: &str, keys: Vec<String>) -> Element<'_, Message> {
    let cap = |key: String| {
        container(text(key).size(size::SMALL))
            .padding([0.0, theme::space::SMALL])
            .style(theme::key_cap)
            .into()
    };
    let keys = row(keys.into_iter().map(cap)).spacing(theme::space::TIGHT);
    row![container(keys).width(KEYS), text(says).width(Length::Fill)]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
}
