//! Draws the form.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row},
};

use super::form::{CutEdge, CutForm, CutMessage as Message, CutStage};
use crate::{
    library::Purpose,
    window::{
        controls::{button, quiet_button},
        theme::{self, Current, part, size, text},
        typing,
    },
};

impl CutForm {
    /// Draws the form, or what is noted of the clip over it.
    pub(in crate::window::screens::clip) fn view(&self) -> Element<'_, Message> {
        if let Some(record) = &self.record {
            return record.view().map(Message::Record);
        }
        let head = column![
            text("Cut a part out").size(size::LEAD).font(theme::STRONG),
            quiet(
                "It becomes a clip of its own with the same pictures, the marks that stand within it \
                 and what is noted of the clip. The clip itself stays as it is."
            ),
        ]
        .spacing(theme::space::HAIR);
        let body = match &self.stage {
            CutStage::Asked(why) => self.asked(why.as_deref()),
            CutStage::Cut(underway) => column![
                text(underway.says()),
                buttons([quiet_button("Stop (Esc)", Message::Leave)])
            ],
            CutStage::Refused(reasons) => refused(reasons),
            CutStage::Made(made) => {
                let said = made.said.iter().map(|line| quiet(line));
                let name = format!("✓ {}", made.path.display());
                let open = main_button("Open it (Enter)", Message::Open);
                column![
                    text(name).style(theme::ink(theme::INK_MET)),
                    column(said),
                    buttons([open, quiet_button("Close (Esc)", Message::Leave)]),
                ]
            }
        };
        container(column![head, body.spacing(theme::space::MIDDLE)].spacing(theme::space::MIDDLE))
            .width(part::PAGE)
            .padding(theme::space::LARGE)
            .into()
    }

    fn asked<'a>(&'a self, why: Option<&'a str>) -> iced::widget::Column<'a, Message> {
        let routines = self.routines.iter().enumerate().map(|(place, (name, [first, last]))| {
            quiet_button(format!("{name}: {first} to {last}"), Message::Routine(place))
        });
        let routines = (!self.routines.is_empty())
            .then(|| labelled("Routine", row(routines).spacing(theme::space::TIGHT).wrap().into()));
        let sound = if self.sound { "✓ Keep the sound" } else { "○ Keep the sound" };
        let purposes = Purpose::ALL.map(|purpose| {
            let sign = if self.purpose == purpose { "✓" } else { "○" };
            quiet_button(format!("{sign} {purpose}"), Message::Purpose(purpose))
        });
        let purposes = row(purposes).spacing(theme::space::TIGHT).wrap();
        let leaves = column![
            quiet("If it goes outside the club's folders it needs consent for what it is for:"),
            purposes
        ];
        let why = why.map(complaint);
        let cut = main_button("Cut it out: where to … (Enter)", Message::Ask);
        let record = quiet_button("What is noted (Ctrl E)", Message::ShowRecord);
        let leave = quiet_button("Cancel (Esc)", Message::Leave);
        column![]
            .push(routines)
            .push(self.field("First frame", CutEdge::First))
            .push(self.field("Last frame", CutEdge::Last))
            .push(labelled("Sound", quiet_button(sound, Message::Sound)))
            .push(labelled("For", leaves.spacing(theme::space::TIGHT).into()))
            .push(why)
            .push(buttons([cut, record, leave]))
    }

    fn field(&self, label: &'static str, edge: CutEdge) -> Element<'_, Message> {
        let current = Current::from(self.current == edge);
        let pointed = move |typed| Message::Pointed(edge, typed);
        let line = typing::field(&self.lines[edge as usize], "number of a frame", current, pointed);
        let here = quiet_button(format!("Frame on screen, {}", self.here), Message::Here(edge));
        let line = row![container(line).width(Length::Fill), here].spacing(theme::space::SMALL);
        labelled(label, line.align_y(Alignment::Center).into())
    }
}

fn refused(reasons: &[String]) -> iced::widget::Column<'_, Message> {
    let reasons = reasons.iter().map(|reason| complaint(reason));
    let record = main_button("What is noted (Ctrl E)", Message::ShowRecord);
    let again = quiet_button("Another place (Enter)", Message::Ask);
    column![
        text("It may not leave the club's folders.").font(theme::STRONG),
        column(reasons).spacing(theme::space::TIGHT),
        quiet("Note what was agreed to, or let it stay in a folder of the club."),
        buttons([record, again, quiet_button("Cancel (Esc)", Message::Leave)]),
    ]
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

fn quiet(said: &str) -> Element<'_, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}

fn main_button(label: &str, message: Message) -> Element<'_, Message> {
    button(text(label)).style(theme::main_button).on_press(message).into()
}

fn buttons<const N: usize>(all: [Element<'_, Message>; N]) -> Element<'_, Message> {
    row(all).spacing(theme::space::SMALL).align_y(Alignment::Center).wrap().into()
}
