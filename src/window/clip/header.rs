//! The routine's header: what is judged, by whom and under which book.

use iced::{
    Alignment, Element, Length,
    keyboard::{Event, Key, key::Named},
    widget::{button, column, container, mouse_area, row, space, text},
};

use super::{Action, Clip, Dialogue};
use crate::{
    marks::{Routine, Sheaf, path_for},
    rulebook::{self, Book},
    window::{
        theme::{self, Current, part, size},
        typing::{self, Typed},
    },
};

/// What is filled in.
#[derive(Debug)]
pub struct Form {
    books: Vec<Book>,
    book: usize,
    /// As it is now; kept, so that what the form does not show stays.
    routine: Routine,
    /// The field that is written in.
    field: Field,
    complaint: Option<String>,
}

/// A field that is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// The athlete's code.
    Athlete,
    /// The judge's code.
    Judge,
    /// The date of the performance.
    Date,
}

impl Field {
    const ALL: [Self; 3] = [Self::Athlete, Self::Judge, Self::Date];

    fn turned(self, by: usize) -> Self {
        Self::ALL[(self as usize + by) % Self::ALL.len()]
    }
}

/// What happened in the form.
#[derive(Clone, Debug)]
pub enum Message {
    /// A book was chosen by its place in the list.
    BookChosen(usize),
    /// An event was chosen by its id.
    EventChosen(String),
    /// A division was chosen by its id.
    DivisionChosen(String),
    /// The next event, or the one before, was asked for.
    EventTurned(isize),
    /// The next division, or the one before, was asked for.
    DivisionTurned(isize),
    /// Something was typed into the current field.
    Typed(Typed),
    /// A field was pointed at.
    FieldChosen(Field),
    /// The next field was asked for.
    NextField,
    /// The field before was asked for.
    FieldBefore,
    /// It is to be taken as it stands.
    Submitted,
    /// It is to be left as it was.
    Left,
}

/// Returns what a key means while the form is open.
pub fn message_for(event: &Event) -> Option<Message> {
    let Event::KeyPressed { key, modifiers, .. } = event else { return None };
    Some(match key {
        Key::Named(Named::Escape) => Message::Left,
        Key::Named(Named::Enter) => Message::Submitted,
        Key::Named(Named::Tab) if modifiers.shift() => Message::FieldBefore,
        Key::Named(Named::Tab) => Message::NextField,
        Key::Named(Named::ArrowDown) if modifiers.command() => Message::EventTurned(1),
        Key::Named(Named::ArrowUp) if modifiers.command() => Message::EventTurned(-1),
        Key::Named(Named::ArrowDown) => Message::DivisionTurned(1),
        Key::Named(Named::ArrowUp) => Message::DivisionTurned(-1),
        _ => Message::Typed(typing::typed(event)?),
    })
}

impl Clip {
    pub(super) fn open_header(&mut self) -> Action {
        let routine = match self.session.sheaf() {
            Some(sheaf) => sheaf.routine.clone(),
            None => self.first_guess(),
        };
        self.dialogue = Dialogue::Header(Box::new(Form::new(routine)));
        Action::None
    }

    /// What can be known before anybody is asked: the default book, today, and the event where
    /// the clip's name says it.
    fn first_guess(&self) -> Routine {
        let name = self.stage.path().to_string_lossy().to_lowercase();
        let named = ["vault", "bars", "beam", "floor"].into_iter().find(|it| name.contains(it));
        Routine {
            id: "1".to_owned(),
            book: "saltmarsh".to_owned(),
            event: named.unwrap_or_default().to_owned(),
            date: jiff::Timestamp::now().strftime("%Y-%m-%d").to_string(),
            ..Routine::default()
        }
    }

    pub(super) fn header(&mut self, message: Message) -> Action {
        let Dialogue::Header(form) = &mut self.dialogue else { return Action::None };
        match message {
            Message::BookChosen(book) => form.choose_book(book),
            Message::EventChosen(event) => form.choose_event(&event),
            Message::DivisionChosen(division) => form.routine.division = division,
            Message::EventTurned(by) => form.turn_event(by),
            Message::DivisionTurned(by) => form.turn_division(by),
            Message::Typed(typed) => form.typed(&typed),
            Message::FieldChosen(field) => form.field = field,
            Message::NextField => form.field = form.field.turned(1),
            Message::FieldBefore => form.field = form.field.turned(Field::ALL.len() - 1),
            Message::Submitted => return self.take_header(),
            Message::Left => return self.leave(),
        }
        Action::None
    }

    /// Takes the form over, where it is complete, and puts down what waited for it.
    fn take_header(&mut self) -> Action {
        let Dialogue::Header(form) = &mut self.dialogue else { return Action::None };
        let routine = match form.routine() {
            Ok(routine) => routine,
            Err(complaint) => {
                form.complaint = Some(complaint);
                return Action::None;
            }
        };
        let taken = if self.session.is_open() {
            self.session.change_routine(routine).map(|_| ())
        } else {
            let path = path_for(self.stage.path(), &routine.id, &routine.judge);
            let clip = Some(self.stage.clip_facts());
            let routine = Routine { span: self.stage.whole(), ..routine };
            self.session.begin(&path, Sheaf { clip, routine, ..Sheaf::default() })
        };
        if let Err(error) = taken {
            form.complaint = Some(error.to_string());
            return Action::None;
        }
        self.dialogue = Dialogue::None;
        match self.put_later.take() {
            Some(entry) => self.put(entry),
            None => Action::None,
        }
    }
}

impl Form {
    fn new(routine: Routine) -> Self {
        let mut complaint = None;
        let mut books: Vec<Book> = Vec::new();
        for name in rulebook::shipped() {
            match rulebook::load(name) {
                Ok(book) => books.push(book),
                Err(error) => complaint = Some(error.to_string()),
            }
        }
        if !books.iter().any(|book| book.id == routine.book) {
            match rulebook::load(&routine.book) {
                Ok(book) => books.push(book),
                Err(error) => complaint = Some(error.to_string()),
            }
        }
        let book = books.iter().position(|book| book.id == routine.book).unwrap_or(0);
        let mut form = Self { books, book, routine, field: Field::Athlete, complaint };
        form.choose_event(&form.routine.event.clone());
        form
    }

    fn typed(&mut self, typed: &Typed) {
        self.complaint = None;
        let text = match self.field {
            Field::Athlete => &mut self.routine.athlete,
            Field::Judge => &mut self.routine.judge,
            Field::Date => &mut self.routine.date,
        };
        typing::change(text, typed);
    }

    fn book(&self) -> Option<&Book> {
        self.books.get(self.book)
    }

    fn choose_book(&mut self, book: usize) {
        self.book = book;
        self.choose_event(&self.routine.event.clone());
    }

    /// Chooses an event, the book's first where it has no such one, and keeps the division where
    /// it competes there.
    fn choose_event(&mut self, event: &str) {
        let Some(book) = self.book() else { return };
        let known = book.event(event).or(book.events().first()).map(|event| event.id.clone());
        let event = known.unwrap_or_default();
        let divisions: Vec<&str> = book.divisions_of(&event).map(|it| it.id.as_str()).collect();
        let kept = divisions.contains(&self.routine.division.as_str());
        let division = if kept { &self.routine.division } else { "" };
        let division = if division.is_empty() {
            divisions.first().map(|id| (*id).to_owned())
        } else {
            Some(division.to_owned())
        };
        self.routine.event = event;
        self.routine.division = division.unwrap_or_default();
    }

    fn turn_event(&mut self, by: isize) {
        let Some(book) = self.book() else { return };
        let ids: Vec<String> = book.events().iter().map(|event| event.id.clone()).collect();
        if let Some(event) = turned(&ids, &self.routine.event, by) {
            self.choose_event(&event);
        }
    }

    fn turn_division(&mut self, by: isize) {
        let Some(book) = self.book() else { return };
        let ids: Vec<String> =
            book.divisions_of(&self.routine.event).map(|division| division.id.clone()).collect();
        if let Some(division) = turned(&ids, &self.routine.division, by) {
            self.routine.division = division;
        }
    }

    /// Returns the routine as it is filled in, or what is still missing.
    fn routine(&self) -> Result<Routine, String> {
        let book = self.book().ok_or("There is no rule book to judge by.")?;
        if self.routine.judge.trim().is_empty() {
            return Err("Give the judge's code, for example J-2: it names the marks file.".into());
        }
        let date = self.routine.date.trim();
        if !date.is_empty() && date.parse::<jiff::civil::Date>().is_err() {
            return Err(format!("\"{date}\" is no date: write it like 2026-11-24."));
        }
        Ok(Routine {
            athlete: self.routine.athlete.trim().to_owned(),
            judge: self.routine.judge.trim().to_owned(),
            date: date.to_owned(),
            book: book.id.clone(),
            edition: book.edition.clone(),
            book_hash: book.hash.clone(),
            ..self.routine.clone()
        })
    }

    /// Draws the form.
    pub fn view(&self) -> Element<'_, Message> {
        let heading = text("What is judged").size(size::LEAD).font(theme::STRONG);
        let why = text("Marks are kept in a file of their own for each routine and judge.")
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET));
        let mut content = column![
            column![heading, why].spacing(theme::space::HAIR),
            labelled(
                "Rule book",
                choices(self.books.iter().enumerate().map(|(place, book)| {
                    (book.title.as_str(), place == self.book, Message::BookChosen(place))
                }))
            ),
            labelled("Event", self.events()),
            labelled("Division", self.divisions()),
            labelled("Athlete", self.field(Field::Athlete)),
            labelled("Judge", self.field(Field::Judge)),
            labelled("Date", self.field(Field::Date)),
        ]
        .spacing(theme::space::MIDDLE);
        if let Some(complaint) = &self.complaint {
            content = content.push(text(complaint).style(theme::ink(theme::INK_MISSED)));
        }
        container(content.push(Self::foot()))
            .width(part::DIALOGUE)
            .padding(theme::space::LARGE)
            .style(theme::sheet)
            .into()
    }

    fn field(&self, field: Field) -> Element<'_, Message> {
        let (value, placeholder) = match field {
            Field::Athlete => (&self.routine.athlete, "code, never a name: SC-07"),
            Field::Judge => (&self.routine.judge, "code: J-2"),
            Field::Date => (&self.routine.date, "2026-11-24"),
        };
        let current = Current::from(field == self.field);
        mouse_area(typing::field(value, placeholder, current))
            .on_press(Message::FieldChosen(field))
            .into()
    }

    fn events(&self) -> Element<'_, Message> {
        let events = self.book().map(Book::events).unwrap_or_default();
        choices(events.iter().map(|event| {
            let current = event.id == self.routine.event;
            (event.name.as_str(), current, Message::EventChosen(event.id.clone()))
        }))
    }

    fn divisions(&self) -> Element<'_, Message> {
        let divisions = self.book().into_iter().flat_map(|it| it.divisions_of(&self.routine.event));
        choices(divisions.map(|division| {
            let current = division.id == self.routine.division;
            (division.name.as_str(), current, Message::DivisionChosen(division.id.clone()))
        }))
    }

    fn foot<'a>() -> Element<'a, Message> {
        let keys = text("Tab next field · ↓ ↑ division · Ctrl ↓ ↑ event")
            .size(size::SMALL)
            .style(theme::ink(theme::INK_QUIET));
        row![
            keys,
            space().width(Length::Fill),
            button("Leave").style(theme::other_button).on_press(Message::Left),
            button("Take it so").style(theme::main_button).on_press(Message::Submitted),
        ]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Center)
        .into()
    }
}

fn turned(ids: &[String], current: &str, by: isize) -> Option<String> {
    let here = ids.iter().position(|id| id == current).unwrap_or(0);
    let next = (here as isize + by).rem_euclid(ids.len().max(1) as isize);
    ids.get(next as usize).cloned()
}

fn labelled<'a>(label: &'a str, content: impl Into<Element<'a, Message>>) -> Element<'a, Message> {
    row![
        text(label).width(part::LABEL).style(theme::ink(theme::INK_QUIET)),
        container(content).width(Length::Fill),
    ]
    .align_y(Alignment::Center)
    .into()
}

fn choices<'a>(choices: impl Iterator<Item = (&'a str, bool, Message)>) -> Element<'a, Message> {
    let choice = |(name, current, message): (&'a str, bool, Message)| {
        button(text(name))
            .padding([theme::space::TIGHT, theme::space::SMALL])
            .style(if current { theme::main_button } else { theme::other_button })
            .on_press(message)
            .into()
    };
    row(choices.map(choice)).spacing(theme::space::TIGHT).wrap().into()
}
