//! Draws it.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Column, column, container, row, scrollable},
};

use crate::{
    library::Purpose,
    units::counted,
    window::{
        controls::{button, quiet_button},
        keymap::{self, HandCommand},
        screens::library::Message,
        theme::{self, Current, part, size, text},
        typing,
    },
};

use super::form::{HandMessage, HandOf, HandOut, HandStage, Handed, Stays, WouldGo};

impl HandOut {
    /// Draws it.
    pub(in crate::window::screens::library) fn view(&self) -> Element<'_, Message> {
        let body = match &self.stage {
            HandStage::Asked => self.asked(None),
            HandStage::Looking => column![quiet("Looking at what is noted of each clip …")],
            HandStage::Shown(would_go) => self.asked(Some(would_go)),
            HandStage::Going(underway) => column![
                text(underway.says()),
                quiet_button(keyed("Stop", HandCommand::Leave), asked(HandCommand::Leave)),
            ],
            HandStage::Gone(handed) => gone(handed),
        };
        column![self.head(), body.spacing(theme::space::MIDDLE)]
            .spacing(theme::space::LARGE)
            .height(Length::Fill)
            .into()
    }

    fn head(&self) -> Element<'_, Message> {
        let of = match &self.of {
            HandOf::Clip(hit) => {
                let path = hit.clip.as_deref().or(hit.marks.as_deref());
                let name = path.and_then(std::path::Path::file_name).unwrap_or_default();
                format!("{}, with the marks of every judge.", name.to_string_lossy())
            }
            HandOf::Found(words, all) if words.is_empty() => {
                format!("Everything: {}.", counted(*all as usize, "routine"))
            }
            HandOf::Found(words, all) => {
                format!("All that \"{words}\" finds: {}.", counted(*all as usize, "routine"))
            }
        };
        column![
            text("Hand out").size(size::LEAD).font(theme::STRONG),
            text(of),
            quiet(
                "Marks, records and the rule book's editions go into one file, named by codes alone. \
                 It is written down for whom it was."
            ),
        ]
        .spacing(theme::space::HAIR)
        .into()
    }

    fn asked<'a>(&'a self, would_go: Option<&'a WouldGo>) -> Column<'a, Message> {
        let to = typing::field(
            &self.to,
            "a club or a role, no person's name: Dunlin club",
            Current::Yes,
            Message::Typed,
        );
        let purposes = [None].into_iter().chain(Purpose::ALL.map(Some)).map(|purpose| {
            let sign = if self.purpose == purpose { "✓" } else { "○" };
            let label = match purpose {
                None => "marks alone, no pictures".to_owned(),
                Some(purpose) => format!("clips too, for {purpose}"),
            };
            let pressed = Message::Hand(HandMessage::Purpose(purpose));
            quiet_button(format!("{sign} {label}"), pressed)
        });
        let purposes = row(purposes).spacing(theme::space::TIGHT).wrap();
        let sound = self.purpose.map(|_| {
            let sign = if self.sound { "✓" } else { "○" };
            let label = format!("{sign} {}", keyed("Keep the sound", HandCommand::Sound));
            labelled("Sound", quiet_button(label, asked(HandCommand::Sound)))
        });
        let next = match would_go {
            None => keyed("Show what would go", HandCommand::GoOn),
            Some(_) => keyed("Hand it out: where to …", HandCommand::GoOn),
        };
        let next = button(text(next)).style(theme::main_button).on_press(asked(HandCommand::GoOn));
        let stays = would_go.is_some_and(|would_go| !would_go.stay.is_empty());
        let record = stays.then(|| {
            quiet_button(keyed("What is noted", HandCommand::Record), asked(HandCommand::Record))
        });
        let leave = quiet_button(keyed("Cancel", HandCommand::Leave), asked(HandCommand::Leave));
        let foot = row![next].push(record).push(leave).spacing(theme::space::SMALL);
        let complaint = self.complaint.as_deref().map(complaint);
        column![labelled("For whom", to), labelled("What (↑ ↓)", purposes.into())]
            .push(sound)
            .push(would_go.map(|would_go| self.shown(would_go)))
            .push(complaint)
            .push(foot.align_y(Alignment::Center))
    }

    fn shown<'a>(&self, would_go: &'a WouldGo) -> Element<'a, Message> {
        let clips = match (self.purpose, would_go.clips) {
            (None, _) => "no pictures".to_owned(),
            (Some(_), 0) => "no clip".to_owned(),
            (Some(_), clips) => counted(clips, "clip"),
        };
        let marks = counted(would_go.marks.len(), "marks file");
        let goes = text(format!("{marks} and {clips} would go. Nothing is handed out yet."))
            .font(theme::STRONG);
        let stay = (!would_go.stay.is_empty()).then(|| {
            let clips = counted(would_go.stay.len(), "clip");
            text(format!("{clips} would stay behind; their marks go all the same:"))
                .style(theme::ink(theme::INK_OPEN))
        });
        column![goes]
            .push(stay)
            .push(list(would_go.stay.iter().map(stays)))
            .spacing(theme::space::TIGHT)
            .into()
    }
}

fn gone(handed: &Handed) -> Column<'_, Message> {
    let path = format!("✓ {}", handed.path.display());
    let stayed = (!handed.stayed.is_empty()).then(|| text("Stayed behind:"));
    column![text(path).style(theme::ink(theme::INK_MET)), text(handed.said.as_str()),]
        .push(stayed)
        .push(list(handed.stayed.iter().map(stays)))
        .push(quiet_button(keyed("Close", HandCommand::Leave), asked(HandCommand::Leave)))
}

fn stays(stays: &Stays) -> Element<'_, Message> {
    let name = stays.clip.file_name().unwrap_or_default().to_string_lossy();
    quiet(format!("{name}: {}", stays.why))
}

/// Lines of which there may be many.
fn list<'a>(lines: impl Iterator<Item = Element<'a, Message>>) -> Element<'a, Message> {
    let lines = column(lines).spacing(theme::space::TIGHT);
    let lines = container(lines).padding(Padding::ZERO.right(theme::space::LARGE));
    container(scrollable(lines).width(Length::Fill).style(theme::lane))
        .max_height(part::RECENT)
        .into()
}

fn labelled<'a>(label: &'a str, what: Element<'a, Message>) -> Element<'a, Message> {
    row![text(label).width(part::LABEL), what]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
}

fn complaint(why: &str) -> Element<'_, Message> {
    text(format!("✗ {why}")).style(theme::ink(theme::INK_MISSED)).into()
}

fn asked(command: HandCommand) -> Message {
    Message::Hand(HandMessage::Asked(command))
}

fn keyed(label: &str, command: HandCommand) -> String {
    format!("{label} ({})", keymap::key_of(command))
}

fn quiet<'a>(said: impl text::IntoFragment<'a>) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
