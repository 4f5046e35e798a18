//! Draws the form.

use iced::{
    Alignment, Element, Length,
    widget::{column, container, row, scrollable, space},
};

use crate::window::{
    controls::{button, quiet_button},
    theme::{self, Current, part, size, text},
    typing,
};

use super::{
    form::{Field, Form},
    message::Message,
};

/// Codes of judges that may be pressed: nothing need be typed to begin.
pub(super) const CODES: [&str; 3] = ["J-1", "J-2", "J-3"];

impl Form {
    /// Draws the form.
    pub(crate) fn view(&self) -> Element<'_, Message> {
        let heading = text("What is judged").size(size::LEAD).font(theme::STRONG);
        let why = text("Marks are kept in a file of their own for each routine and judge.")
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET));
        let mut content = column![
            column![heading, why].spacing(theme::space::HAIR),
            labelled("Rule book", self.choose_book_view()),
            labelled("Event", self.events()),
            labelled("Division", self.divisions()),
        ]
        .extend(Field::all(self.purpose).iter().map(|field| self.field(*field)))
        .spacing(theme::space::MIDDLE);
        if let Some(complaint) = &self.complaint {
            content = content.push(text(complaint).style(theme::ink(theme::INK_MISSED)));
        }
        if let Some(folder) = &self.elsewhere {
            let label = format!("Keep the marks in {} (Ctrl Enter)", folder.display());
            let keep = button(text(label)).style(theme::main_button);
            content = content.push(keep.on_press(Message::SubmittedElsewhere));
        }
        container(scrollable(content.push(Self::foot())).style(theme::lane))
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet)
            .into()
    }

    fn field(&self, field: Field) -> Element<'_, Message> {
        let (label, placeholder) = match field {
            Field::Athlete => ("Athlete", "code, never a name: SC-07"),
            Field::Judge => ("Judge", "code: J-2"),
            Field::Date => ("Date", "2026-11-24"),
            Field::Routine => ("Routine", "its name within this clip: 1"),
        };
        let current = Current::from(field == self.field);
        let line = &self.lines[field as usize];
        let pointed = move |typed| Message::PointedAt(field, typed);
        let why = self.no_code(field).map(|error| {
            text(format!("{error}.")).size(size::SMALL).style(theme::ink(theme::INK_MISSED))
        });
        let is_offered = line.text().is_empty() || CODES.contains(&line.text());
        let offers = (field == Field::Judge && is_offered).then(|| {
            let offer = |code: &str| Message::CodeChosen(code.to_owned());
            let others = CODES.into_iter().filter(|code| *code != line.text());
            let codes = others.map(|code| quiet_button(code, offer(code)));
            row(codes).spacing(theme::space::TIGHT)
        });
        let field = typing::field(line, placeholder, current, pointed);
        labelled(label, column![field].push(offers).push(why).spacing(theme::space::HAIR))
    }

    fn choose_book_view(&self) -> Element<'_, Message> {
        let books =
            self.books.iter().enumerate().map(|(place, named)| {
                (named.title(), place == self.book, Message::BookChosen(place))
            });
        let own = ("A book of your own …".to_owned(), false, Message::BookAsked);
        choices(books.chain([own]))
    }

    fn events(&self) -> Element<'_, Message> {
        let events = self.book().map_or(&[][..], |book| &book.events);
        choices(events.iter().map(|event| {
            let current = event.id == self.routine.event;
            (event.name.clone(), current, Message::EventChosen(event.id.clone()))
        }))
    }

    fn divisions(&self) -> Element<'_, Message> {
        let divisions = self.book().into_iter().flat_map(|it| it.divisions_of(&self.routine.event));
        choices(divisions.map(|division| {
            let current = division.id == self.routine.division;
            (division.name.clone(), current, Message::DivisionChosen(division.id.clone()))
        }))
    }

    fn foot<'a>() -> Element<'a, Message> {
        let keys = text("Tab field · ↓ ↑ division · Ctrl ↓ ↑ event · Ctrl B book")
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET));
        row![
            keys,
            space().width(Length::Fill),
            button("Cancel").style(theme::other_button).on_press(Message::Left),
            button("Done").style(theme::main_button).on_press(Message::Submitted),
        ]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
    }
}

fn labelled<'a>(label: &'a str, content: impl Into<Element<'a, Message>>) -> Element<'a, Message> {
    row![
        text(label).width(part::LABEL).style(theme::ink(theme::INK_QUIET)),
        container(content).width(Length::Fill),
    ]
    .align_y(Alignment::Center)
    .into()
}

fn choices<'a>(choices: impl Iterator<Item = (String, bool, Message)>) -> Element<'a, Message> {
    let choice = |(name, current, message): (String, bool, Message)| {
        button(text(name))
            .padding([theme::space::TIGHT, theme::space::SMALL])
            .style(if current { theme::main_button } else { theme::other_button })
            .on_press(message)
            .into()
    };
    row(choices.map(choice)).spacing(theme::space::TIGHT).wrap().into()
}
