//! The routine's header: what is judged, by whom and under which book.

use std::path::PathBuf;

use iced::{
    Alignment, Element, Length,
    keyboard::{Event, Key, key::Named},
    widget::{button, column, container, row, space, text},
};

use super::{Action, Clip, Dialogue, session::SessionError};
use crate::{
    marks::{ClipFacts, Routine, Sheaf, path_for},
    rulebook::{self, Book},
    window::{
        memory::{self, LastRoutine},
        theme::{self, Current, part, size},
        typing::{self, Line, Typed},
    },
};

/// What is filled in.
#[derive(Debug)]
pub struct Form {
    books: Vec<Book>,
    book: usize,
    /// As it is now; kept, so that what the form does not show stays.
    routine: Routine,
    /// What is written, by field.
    lines: [Line; 4],
    /// The field that is written in.
    field: Field,
    purpose: Purpose,
    complaint: Option<String>,
    /// Where the marks can be kept instead, once it turned out that they cannot lie beside the
    /// clip.
    elsewhere: Option<PathBuf>,
}

/// What the form is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Purpose {
    /// A routine that is not there yet.
    Begin,
    /// One that is.
    Change,
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
    /// The routine's name within its clip; it cannot be changed later, for it names the file.
    Routine,
}

impl Field {
    const fn all(purpose: Purpose) -> &'static [Self] {
        match purpose {
            Purpose::Begin => &[Self::Athlete, Self::Judge, Self::Date, Self::Routine],
            Purpose::Change => &[Self::Athlete, Self::Judge, Self::Date],
        }
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
    PointedAt(Field, Typed),
    /// The field so many places on was asked for.
    FieldTurned(isize),
    /// It is to be taken as it stands.
    Submitted,
    /// The same, with the marks kept elsewhere.
    SubmittedElsewhere,
    /// It is to be left as it was.
    Left,
}

/// Returns what a key means while the form is open.
pub fn message_for(event: &Event) -> Option<Message> {
    let Event::KeyPressed { key, modifiers, .. } = event else { return None };
    Some(match key {
        Key::Named(Named::Escape) => Message::Left,
        Key::Named(Named::Enter) if modifiers.command() => Message::SubmittedElsewhere,
        Key::Named(Named::Enter) => Message::Submitted,
        Key::Named(Named::Tab) if modifiers.shift() => Message::FieldTurned(-1),
        Key::Named(Named::Tab) => Message::FieldTurned(1),
        Key::Named(Named::ArrowDown) if modifiers.command() => Message::EventTurned(1),
        Key::Named(Named::ArrowUp) if modifiers.command() => Message::EventTurned(-1),
        Key::Named(Named::ArrowDown) => Message::DivisionTurned(1),
        Key::Named(Named::ArrowUp) => Message::DivisionTurned(-1),
        _ => Message::Typed(typing::typed(event)?),
    })
}

impl Clip {
    pub(super) fn open_header(&mut self) -> Action {
        let (routine, purpose) = match self.session.sheaf() {
            Some(sheaf) => (sheaf.routine.clone(), Purpose::Change),
            None => (self.first_guess(), Purpose::Begin),
        };
        self.dialogue = Dialogue::Header(Box::new(Form::new(routine, purpose)));
        Action::None
    }

    /// Asks what another routine of the clip is; it begins at the frame on screen.
    pub(super) fn begin_another(&mut self) -> Action {
        self.stop();
        let routine = self.first_guess();
        self.dialogue = Dialogue::Header(Box::new(Form::new(routine, Purpose::Begin)));
        Action::None
    }

    /// What can be known before anybody is asked: what was judged last, today, and the event
    /// where the clip's name says it.
    fn first_guess(&self) -> Routine {
        let name = self.stage.path().to_string_lossy().to_lowercase();
        let named = ["vault", "bars", "beam", "floor"].into_iter().find(|it| name.contains(it));
        let last = self.session.sheaf().map(|it| LastRoutine::from(&it.routine));
        let last = last.unwrap_or_else(|| self.last.clone());
        let book = if last.book.is_empty() { "saltmarsh".to_owned() } else { last.book };
        Routine {
            id: self.free_name(),
            book,
            event: named.map_or(last.event, str::to_owned),
            division: last.division,
            judge: last.judge,
            date: jiff::Timestamp::now().strftime("%Y-%m-%d").to_string(),
            ..Routine::default()
        }
    }

    /// Returns the lowest number that names no routine of the clip yet.
    fn free_name(&self) -> String {
        let taken = |name: &String| self.routines.iter().any(|known| known.is_called(name));
        // Among one more numbers than there are routines, one is free.
        let numbers = 1..=self.routines.len() + 1;
        let mut names = numbers.map(|number| number.to_string());
        names.find(|name| !taken(name)).unwrap_or_default()
    }

    pub(super) fn header(&mut self, message: Message) -> Action {
        let Dialogue::Header(form) = &mut self.dialogue else { return Action::None };
        match message {
            Message::BookChosen(book) => form.choose_book(book),
            Message::EventChosen(event) => form.choose_event(&event),
            Message::DivisionChosen(division) => form.routine.division = division,
            Message::EventTurned(by) => form.turn_event(by),
            Message::DivisionTurned(by) => form.turn_division(by),
            Message::Typed(typed) => return form.typed(&typed),
            Message::PointedAt(field, typed) => {
                form.field = field;
                return form.typed(&typed);
            }
            Message::FieldTurned(by) => form.turn_field(by),
            Message::Submitted => return self.take_header(None),
            Message::SubmittedElsewhere => {
                let folder = form.elsewhere.clone();
                return self.take_header(folder);
            }
            Message::Left => return self.leave(),
        }
        Action::None
    }

    /// Takes the form over, where it is complete, and puts down what waited for it. The marks are
    /// kept in `folder` where one is given, else beside the clip.
    fn take_header(&mut self, folder: Option<PathBuf>) -> Action {
        let Dialogue::Header(form) = &self.dialogue else { return Action::None };
        let purpose = form.purpose;
        let taken = form.routine().map_err(Refusal::Form).and_then(|routine| match purpose {
            Purpose::Change => self.session.change_routine(routine).map(|_| ()).map_err(Into::into),
            Purpose::Begin => self.begin(routine, folder),
        });
        if let Err(refusal) = taken {
            if let Dialogue::Header(form) = &mut self.dialogue {
                form.refuse(&refusal);
            }
            return Action::None;
        }
        self.dialogue = Dialogue::None;
        self.look_for_routines();
        match self.put_later.take() {
            Some(entry) => self.put(entry),
            None => Action::None,
        }
    }

    fn begin(&mut self, routine: Routine, folder: Option<PathBuf>) -> Result<(), Refusal> {
        self.session.save()?;
        let mut path = path_for(self.stage.path(), &routine.id, &routine.judge);
        if let Some(folder) = folder {
            std::fs::create_dir_all(&folder)
                .map_err(|error| Refusal::Form(format!("{}: {error}.", folder.display())))?;
            path = folder.join(path.file_name().unwrap_or_default());
        }
        let span = self.stage.whole().map(|[first, last]| {
            // Another routine begins where the person looks; the first is the whole clip.
            let another = !self.routines.is_empty();
            [if another { self.stage.frame_ref(self.frame) } else { first }, last]
        });
        let facts = self.stage.clip_facts();
        let clip = Some(ClipFacts { orientation_override: self.turn(), ..facts });
        let routine = Routine { span, ..routine };
        Ok(self.session.begin(&path, Sheaf { clip, routine, ..Sheaf::default() })?)
    }
}

/// Why the form could not be taken.
enum Refusal {
    /// Something in it is missing or wrong, in words.
    Form(String),
    /// The marks could not be opened or written.
    Session(SessionError),
}

impl From<SessionError> for Refusal {
    fn from(error: SessionError) -> Self {
        Self::Session(error)
    }
}

impl Form {
    fn new(routine: Routine, purpose: Purpose) -> Self {
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
        let lines = [&routine.athlete, &routine.judge, &routine.date, &routine.id];
        let lines = lines.map(|text| Line::new(text.as_str()));
        let (field, elsewhere) = (Field::Athlete, None);
        let mut form = Self { books, book, routine, lines, field, purpose, complaint, elsewhere };
        form.choose_event(&form.routine.event.clone());
        form.turn_field(0);
        form
    }

    fn typed(&mut self, typed: &Typed) -> Action {
        self.complaint = None;
        let wish = self.lines[self.field as usize].take(typed);
        Action::Run(wish.task(super::Message::Typed))
    }

    /// Goes to another field and selects what is in it, so that writing replaces it.
    fn turn_field(&mut self, by: isize) {
        let fields = Field::all(self.purpose);
        let here = fields.iter().position(|field| *field == self.field).unwrap_or(0);
        let next = (here as isize + by).rem_euclid(fields.len() as isize) as usize;
        self.field = fields[next];
        self.lines[self.field as usize].select_all();
    }

    fn refuse(&mut self, refusal: &Refusal) {
        self.complaint = Some(match refusal {
            Refusal::Form(complaint) => complaint.clone(),
            Refusal::Session(error) => error.to_string(),
        });
        if let Refusal::Session(error) = refusal
            && error.is_unwritable()
        {
            self.elsewhere = memory::marks_elsewhere();
        }
    }

    fn written(&self, field: Field) -> String {
        self.lines[field as usize].text().trim().to_owned()
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
        if self.written(Field::Judge).is_empty() {
            return Err("Give the judge's code, for example J-2: it names the marks file.".into());
        }
        let date = self.written(Field::Date);
        if !date.is_empty() && date.parse::<jiff::civil::Date>().is_err() {
            return Err(format!("\"{date}\" is no date: write it like 2026-11-24."));
        }
        let id = self.written(Field::Routine);
        Ok(Routine {
            id: if id.is_empty() { "1".to_owned() } else { id },
            athlete: self.written(Field::Athlete),
            judge: self.written(Field::Judge),
            date,
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
        container(content.push(Self::foot()))
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
        labelled(label, typing::field(line, placeholder, current, pointed))
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
