//! Draws what every form of it has around its fields.

use iced::{
    Alignment, Element, Length,
    widget::{Column, column, container, row, scrollable},
};

use super::state::{Errand, ErrandMessage, Made, Stage};
use crate::{
    library::Purpose,
    units::FrameIndex,
    window::{
        controls::{button, quiet_button},
        screens::clip::Message,
        theme::{self, Current, part, size, text},
        typing::{self, Line, Typed},
    },
};

impl Errand {
    /// Draws the form with these fields, or what is noted of the clip over it.
    pub(in crate::window::screens::clip) fn view<'a>(
        &'a self,
        fields: impl FnOnce() -> Column<'a, Message>,
    ) -> Element<'a, Message> {
        if let Some(record) = &self.record {
            return record.view().map(|it| Message::Errand(ErrandMessage::Record(it)));
        }
        let head = column![
            text(self.words.title).size(size::LEAD).font(theme::STRONG),
            quiet(self.words.about),
        ]
        .spacing(theme::space::HAIR);
        let body = match &self.stage {
            Stage::Asked(why) => {
                fields().push(self.purposes()).push(why.as_deref().map(complaint)).push(self.foot())
            }
            Stage::Underway(underway) => {
                column![text(underway.says()), buttons([quiet_button("Stop (Esc)", leave())]),]
            }
            Stage::Refused(reasons) => self.refused(reasons),
            Stage::Made(made) => there(made),
        };
        let content = column![head, body.spacing(theme::space::MIDDLE)];
        container(scrollable(content.spacing(theme::space::MIDDLE)).style(theme::lane))
            .width(part::PAGE)
            .padding(theme::space::LARGE)
            .into()
    }

    fn purposes(&self) -> Element<'_, Message> {
        let purposes = Purpose::ALL.map(|purpose| {
            let message = Message::Errand(ErrandMessage::Purpose(purpose));
            choice(self.purpose == purpose, &purpose.to_string(), message)
        });
        let purposes = row(purposes).spacing(theme::space::TIGHT).wrap();
        let for_what = column![quiet(self.words.consent), purposes];
        labelled("For", for_what.spacing(theme::space::TIGHT))
    }

    fn foot(&self) -> Element<'_, Message> {
        buttons([
            main_button(self.words.go, Message::Errand(ErrandMessage::Ask)),
            quiet_button("What is noted (Ctrl E)", show_record()),
            quiet_button("Cancel (Esc)", leave()),
        ])
    }

    fn refused<'a>(&'a self, reasons: &'a [String]) -> Column<'a, Message> {
        let [refused, remedy] = self.words.refused;
        let reasons = reasons.iter().map(|reason| complaint(reason));
        let again = Message::Errand(ErrandMessage::Ask);
        column![
            text(refused).font(theme::STRONG),
            column(reasons).spacing(theme::space::TIGHT),
            quiet(remedy),
            self.purposes(),
            buttons([
                main_button("What is noted (Ctrl E)", show_record()),
                quiet_button(self.words.again, again),
                quiet_button("Cancel (Esc)", leave()),
            ]),
        ]
    }
}

fn there(made: &Made) -> Column<'_, Message> {
    let said = made.said.iter().map(|line| quiet(line));
    let name = format!("✓ {}", made.path.display());
    let foot = if made.is_clip {
        let open = Message::Errand(ErrandMessage::Open);
        buttons([main_button("Open it (Enter)", open), quiet_button("Close (Esc)", leave())])
    } else {
        buttons([main_button("Close (Enter)", leave())])
    };
    column![text(name).style(theme::ink(theme::INK_MET)), column(said), foot]
}

/// Draws one of several, or something that is or is not so.
pub(in crate::window::screens::clip) fn choice<'a, M: Clone + 'a>(
    is_chosen: bool,
    says: &str,
    message: M,
) -> Element<'a, M> {
    let sign = if is_chosen { "✓" } else { "○" };
    quiet_button(format!("{sign} {says}"), message)
}

pub(in crate::window::screens::clip) fn labelled<'a, M: 'a>(
    label: &'a str,
    what: impl Into<Element<'a, M>>,
) -> Element<'a, M> {
    row![text(label).width(part::LABEL), what.into()]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
}

pub(in crate::window::screens::clip) fn quiet<'a, M: 'a>(said: &'a str) -> Element<'a, M> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}

/// Draws the field of a frame's number, with the frame on screen on a button beside it.
pub(in crate::window::screens::clip) fn frame_field<'a, M: Clone + 'a>(
    label: &'a str,
    (line, current): (&'a Line, Current),
    pointed: impl Fn(Typed) -> M + 'a,
    (here, is_here): (FrameIndex, M),
) -> Element<'a, M> {
    let line = typing::field(line, "number of a frame", current, pointed);
    let here = quiet_button(format!("Frame on screen, {here}"), is_here);
    let line = row![container(line).width(Length::Fill), here].spacing(theme::space::SMALL);
    labelled(label, line.align_y(Alignment::Center))
}

fn complaint(why: &str) -> Element<'_, Message> {
    text(format!("✗ {why}")).style(theme::ink(theme::INK_MISSED)).into()
}

fn main_button(label: &str, message: Message) -> Element<'_, Message> {
    button(text(label)).style(theme::main_button).on_press(message).into()
}

fn buttons<const N: usize>(all: [Element<'_, Message>; N]) -> Element<'_, Message> {
    row(all).spacing(theme::space::SMALL).align_y(Alignment::Center).wrap().into()
}

const fn show_record() -> Message {
    Message::Errand(ErrandMessage::ShowRecord)
}

const fn leave() -> Message {
    Message::Errand(ErrandMessage::Leave)
}
