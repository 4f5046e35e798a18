//! Draws the form.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{column, container, row, scrollable},
};

use super::form::{Field, RecordForm, RecordMessage as Message};
use crate::{
    library::{Agrees, Athlete, Others, Purpose, Shows},
    window::{
        controls::quiet_button,
        theme::{self, Current, part, size, text},
        typing,
    },
};

impl RecordForm {
    /// Draws the form.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let name = self.clip.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let head = column![
            text(format!("What is noted of {name}")).size(size::LEAD).font(theme::STRONG),
            quiet(
                "Whoever is filmed is noted by a code. Consent is asked for on paper, of the child and \
                 a parent, and may be taken back at any time."
            ),
        ]
        .spacing(theme::space::HAIR);
        let body: Element<'_, Message> = if self.is_read() {
            let body = column![self.people(), self.agreed(), self.about(), self.days()]
                .spacing(theme::space::LARGE);
            let body = container(body).padding(Padding::ZERO.right(theme::space::LARGE));
            scrollable(body).height(Length::Fill).style(theme::lane).into()
        } else {
            quiet("Reading …")
        };
        let complaint = self
            .complaint
            .as_ref()
            .map(|why| text(format!("✗ {why}")).style(theme::ink(theme::INK_MISSED)));
        let altered = self.is_altered.then(|| {
            let holds = ticked(self.still_holds, "What is noted still holds");
            row![
                text("! The clip was altered since this was noted.")
                    .style(theme::ink(theme::INK_OPEN)),
                quiet_button(holds, Message::StillHolds),
            ]
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center)
        });
        let save = if self.is_writing { "Saving …" } else { "Save (Ctrl S)" };
        let foot =
            row![quiet_button(save, Message::Save), quiet_button("Cancel (Esc)", Message::Leave),]
                .spacing(theme::space::SMALL);
        let sheet = column![head, body].push(altered).push(complaint).push(foot);
        container(sheet.spacing(theme::space::MIDDLE))
            .max_width(part::PAGE)
            .padding(theme::space::LARGE)
            .into()
    }

    fn people(&self) -> Element<'_, Message> {
        let shows =
            [(Shows::People, "People are filmed"), (Shows::Nobody, "Nobody: drawn, or empty")];
        let shows = shows.map(|(shows, says)| {
            quiet_button(ticked(self.noted.shows == shows, says), Message::Shows(shows))
        });
        let codes = self.noted.athletes.iter().enumerate().map(|(at, athlete)| {
            quiet_button(ticked(at == self.athlete, &athlete.code), Message::Athlete(at))
        });
        let mut lines =
            column![heading("Who is filmed"), buttons(shows)].spacing(theme::space::SMALL);
        if self.noted.shows == Shows::People {
            let add = quiet_button("Add", Message::AddCode);
            let field = row![self.field(Field::Code), add].spacing(theme::space::SMALL);
            lines = lines.push(field.align_y(Alignment::Center));
            if !self.noted.athletes.is_empty() {
                let remove = quiet_button("Remove her", Message::RemoveAthlete);
                let codes = row(codes).push(remove).spacing(theme::space::TIGHT);
                lines = lines.push(codes.wrap());
            }
        }
        lines.into()
    }

    fn agreed(&self) -> Element<'_, Message> {
        let Some(athlete) = self.noted.athletes.get(self.athlete) else { return column![].into() };
        if self.noted.shows == Shows::Nobody {
            return column![].into();
        }
        let purposes = Purpose::ALL.map(|purpose| {
            let is_chosen = self.consent.purposes.contains(&purpose);
            quiet_button(ticked(is_chosen, &purpose.to_string()), Message::Purpose(purpose))
        });
        let agrees = [
            (Agrees::Both, "She and a parent"),
            (Agrees::Athlete, "She"),
            (Agrees::Parent, "A parent"),
            (Agrees::Alone, "She alone, old enough by your rules"),
        ];
        let agrees = agrees.map(|(agrees, says)| {
            quiet_button(ticked(self.consent.agrees == agrees, says), Message::Agrees(agrees))
        });
        column![
            heading("What was agreed to"),
            noted(athlete),
            buttons(purposes),
            buttons(agrees),
            self.field(Field::By),
            self.field(Field::Until),
            quiet_button(format!("Note this for {}", athlete.code), Message::NoteConsent),
        ]
        .spacing(theme::space::SMALL)
        .into()
    }

    fn about(&self) -> Element<'_, Message> {
        let others = [
            (Others::None, "nobody"),
            (Others::Recognisable, "somebody"),
            (Others::Covered, "covered or cut away"),
        ];
        let others = others.map(|(others, says)| {
            quiet_button(ticked(self.noted.others == others, says), Message::Others(others))
        });
        let injury = [(false, "no"), (true, "yes")].map(|(seen, says)| {
            quiet_button(ticked(self.noted.injury_or_distress == seen, says), Message::Injury(seen))
        });
        column![
            heading("Who else can be recognised"),
            buttons(others),
            heading("An injury or distress is seen"),
            buttons(injury),
        ]
        .spacing(theme::space::SMALL)
        .into()
    }

    fn days(&self) -> Element<'_, Message> {
        let fields = [Field::DeleteBy, Field::Filmed, Field::Source, Field::Notes];
        let fields = fields.map(|field| self.field(field));
        column![heading("The clip")].extend(fields).spacing(theme::space::SMALL).into()
    }

    fn field(&self, field: Field) -> Element<'_, Message> {
        let current = Current::from(self.current == field);
        let line = &self.lines[field as usize];
        let written =
            typing::field(line, field.hint(), current, move |typed| Message::Current(field, typed));
        row![text(field.says()).width(part::LABEL), written]
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center)
            .into()
    }
}

fn noted(athlete: &Athlete) -> Element<'_, Message> {
    let lines = athlete.consents.iter().enumerate().map(|(at, consent)| {
        let purposes: Vec<String> = consent.purposes.iter().map(Purpose::to_string).collect();
        let until = consent.until.map_or("it is withdrawn".to_owned(), |day| day.to_string());
        let said = format!(
            "{} for {}, until {until}; form held by {}, noted {}",
            consent.of,
            purposes.join(", "),
            consent.by,
            consent.noted
        );
        let said = text(said).size(size::SMALL).width(Length::Fill);
        row![said, quiet_button("Take out", Message::RemoveConsent(at))]
            .spacing(theme::space::SMALL)
            .align_y(Alignment::Center)
            .into()
    });
    let none = athlete.consents.is_empty().then(|| quiet("Nothing is noted yet."));
    column(lines).push(none).spacing(theme::space::HAIR).into()
}

fn ticked(is_chosen: bool, says: &str) -> String {
    if is_chosen { format!("✓ {says}") } else { says.to_owned() }
}

fn heading(said: &str) -> Element<'_, Message> {
    text(said).font(theme::STRONG).into()
}

fn quiet(said: &str) -> Element<'_, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}

fn buttons<const N: usize>(all: [Element<'_, Message>; N]) -> Element<'_, Message> {
    row(all).spacing(theme::space::TIGHT).wrap().into()
}
