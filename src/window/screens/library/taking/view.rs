//! Draws it.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Column, column, container, row, scrollable},
};

use crate::window::{
    controls::{button, quiet_button},
    keymap::{self, HandCommand},
    screens::library::Message,
    theme::{self, part, size, text},
};

use super::form::{TakeIn, TakeMessage, TakeStage, Taken};

impl TakeIn {
    /// Draws it.
    pub(in crate::window::screens::library) fn view(&self) -> Element<'_, Message> {
        let head = column![
            text("Take a bundle in").size(size::LEAD).font(theme::STRONG),
            text(self.bundle.display().to_string()),
            quiet(
                "All of it is checked before anything is written, and nothing is written over. Who \
                 withdrew here stays outside."
            ),
        ]
        .spacing(theme::space::HAIR);
        let body = match &self.stage {
            TakeStage::Asked => self.asked(),
            TakeStage::Going(underway) => column![
                text(underway.says()),
                quiet_button(keyed("Stop", HandCommand::Leave), asked(HandCommand::Leave)),
            ],
            TakeStage::Says(says) => opens(says),
            TakeStage::Taken(taken) => taken_in(taken),
        };
        column![head, body.spacing(theme::space::MIDDLE)]
            .spacing(theme::space::LARGE)
            .height(Length::Fill)
            .into()
    }

    fn asked(&self) -> Column<'_, Message> {
        let folders = self.folders.iter().enumerate().map(|(place, folder)| {
            let sign = if place == self.into { "✓" } else { "○" };
            let label = format!("{sign} {}", folder.display());
            quiet_button(label, Message::Take(TakeMessage::Into(place)))
        });
        let folders = column(folders).spacing(theme::space::TIGHT);
        let folders = row![text("Into (↑ ↓)").width(part::LABEL), folders];
        let complaint = self
            .complaint
            .as_deref()
            .map(|why| text(format!("✗ {why}")).style(theme::ink(theme::INK_MISSED)));
        column![folders.spacing(theme::space::SMALL)]
            .push(complaint)
            .push(foot("Take it in", "Cancel"))
    }
}

fn opens(says: &[String]) -> Column<'_, Message> {
    let says = says.iter().map(|line| text(line.as_str()).into());
    column![
        text("It says what may be done with clips that are here and of which nothing is noted:")
            .font(theme::STRONG),
        list(says),
        quiet("Nothing is taken in yet. Look whether that is so."),
        foot("It is so: take it in", "Cancel"),
    ]
}

fn taken_in(taken: &Taken) -> Column<'_, Message> {
    let said = taken.said.iter().map(|line| text(line.as_str()).into());
    let clips = taken.clips.iter().map(|clip| {
        let name = clip.file_name().unwrap_or_default().to_string_lossy();
        let open = Message::Take(TakeMessage::Open(clip.clone()));
        quiet_button(format!("Open {name}"), open)
    });
    let close = button(text(keyed("To the wall", HandCommand::GoOn)))
        .style(theme::main_button)
        .on_press(asked(HandCommand::GoOn));
    column![column(said), list(clips), close]
}

fn list<'a>(lines: impl Iterator<Item = Element<'a, Message>>) -> Element<'a, Message> {
    let lines = column(lines).spacing(theme::space::TIGHT);
    let lines = container(lines).padding(Padding::ZERO.right(theme::space::LARGE));
    container(scrollable(lines).width(Length::Fill).style(theme::lane))
        .max_height(part::RECENT)
        .into()
}

fn foot<'a>(next: &str, leave: &str) -> Element<'a, Message> {
    let next = button(text(keyed(next, HandCommand::GoOn)))
        .style(theme::main_button)
        .on_press(asked(HandCommand::GoOn));
    let leave = quiet_button(keyed(leave, HandCommand::Leave), asked(HandCommand::Leave));
    row![next, leave].spacing(theme::space::SMALL).align_y(Alignment::Center).into()
}

fn asked(command: HandCommand) -> Message {
    Message::Take(TakeMessage::Asked(command))
}

fn keyed(label: &str, command: HandCommand) -> String {
    format!("{label} ({})", keymap::key_of(command))
}

fn quiet(said: &str) -> Element<'_, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
