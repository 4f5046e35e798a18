//! Buttons that several screens have.

mod tabs;
mod target;

use std::time::Duration;

use iced::{
    Element,
    widget::{container, tooltip},
};

#[cfg(feature = "harness")]
pub(super) use tabs::is_fence;
pub(super) use tabs::{FieldAt, Tab, fence, tab, walk};
pub(super) use target::button;

use super::{
    keymap::{self, Command},
    theme::{self, Current, size, text},
};

/// How long the pointer rests on a button before it is told what that does.
const TIP_DELAY: Duration = Duration::from_millis(500);

/// Returns a button on the stage that stands for a command, with its key as a tip.
pub(super) fn stage_button<'a, M: Clone + 'a, C: Command>(
    label: impl text::IntoFragment<'a>,
    current: Current,
    command: C,
    asked: impl Fn(C) -> M,
) -> Element<'a, M> {
    let button = button(text(label).size(size::SMALL))
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .style(theme::stage_button(current))
        .on_press(asked(command));
    tipped(button.into(), command)
}

/// Returns a small button on paper that stands for a command, with its key as a tip.
pub(super) fn command_button<'a, M: Clone + 'a, C: Command>(
    label: impl text::IntoFragment<'a>,
    command: C,
    asked: impl Fn(C) -> M,
) -> Element<'a, M> {
    tipped(quiet_button(label, asked(command)), command)
}

pub(super) fn tipped<'a, M: 'a, C: Command>(button: Element<'a, M>, command: C) -> Element<'a, M> {
    let tip = container(text(keymap::tip(command)).size(size::SMALL))
        .padding([theme::space::TIGHT, theme::space::SMALL])
        .style(theme::offers);
    tooltip(button, tip, tooltip::Position::Top).delay(TIP_DELAY).into()
}

/// Returns a small button on paper.
pub(super) fn quiet_button<'a, M: Clone + 'a>(
    label: impl text::IntoFragment<'a>,
    pressed: M,
) -> Element<'a, M> {
    button(text(label).size(size::SMALL))
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::other_button)
        .on_press(pressed)
        .into()
}
