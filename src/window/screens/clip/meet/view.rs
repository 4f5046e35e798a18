//! Draws the form, and what it gave beside the sheet.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row},
};

use super::form::{MeetField, MeetForm, MeetMessage as Message};
use crate::{
    sheet::{ScoreSheet, score_words},
    units::Points,
    window::{
        controls::{button, quiet_button},
        theme::{self, Current, part, size, text},
        typing,
    },
};

impl MeetForm {
    /// Draws the form over the sheet that it is laid beside.
    pub(in crate::window::screens::clip) fn view<'a>(
        &'a self,
        sheet: Option<&'a ScoreSheet>,
    ) -> Element<'a, Message> {
        let head = column![
            text("What the meet gave").size(size::LEAD).font(theme::STRONG),
            quiet(
                "It is kept in the marks and changes no score. Judges go by code, never by name."
            ),
        ]
        .spacing(theme::space::HAIR);
        let fields = MeetField::ALL.map(|field| self.field(field));
        let complaint = self
            .complaint
            .as_ref()
            .map(|why| text(format!("✗ {why}")).style(theme::ink(theme::INK_MISSED)));
        let label = if self.is_kept { "Close (Enter)" } else { "Keep it (Enter)" };
        let keep = button(text(label)).style(theme::main_button).on_press(Message::Save);
        let leave = quiet_button("Cancel (Esc)", Message::Leave);
        let foot = row![keep, leave].spacing(theme::space::SMALL).align_y(Alignment::Center);
        let beside = sheet.filter(|sheet| self.is_kept && !sheet.result.is_empty()).map(beside);
        let form = column![head, column(fields).spacing(theme::space::SMALL)]
            .push(complaint)
            .push(beside)
            .push(foot)
            .spacing(theme::space::MIDDLE);
        container(form).width(part::PAGE).padding(theme::space::LARGE).into()
    }

    fn field(&self, field: MeetField) -> Element<'_, Message> {
        let current = Current::from(self.current == field);
        let pointed = move |typed| Message::Pointed(field, typed);
        let line = typing::field(&self.lines[field as usize], field.hint(), current, pointed);
        row![text(field.says()).width(part::LABEL), line]
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center)
            .into()
    }
}

/// What the meet gave beside what the sheet says, line by line.
fn beside(sheet: &ScoreSheet) -> Element<'_, Message> {
    let cell = |said: String| text(said).width(Length::FillPortion(1));
    let line = |first: String, rest: [String; 3]| {
        let rest = rest.map(|said| cell(said).into());
        row![text(first).width(Length::FillPortion(3))].extend(rest).into()
    };
    let head = ["The meet", "The sheet", "Sheet − meet"].map(str::to_owned);
    let lines = sheet.result.iter().map(|given| {
        let difference = given.difference.map_or("–".to_owned(), signed);
        line(given.part.clone(), [given.given.to_string(), score_words(given.sheet), difference])
    });
    column![line(String::new(), head)].extend(lines).spacing(theme::space::TIGHT).into()
}

fn signed(points: Points) -> String {
    if points > Points::ZERO { format!("+{points}") } else { points.to_string() }
}

fn quiet(said: &str) -> Element<'_, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
