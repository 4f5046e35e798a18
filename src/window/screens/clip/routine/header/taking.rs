//! The form on the clip screen: opened, filled in, taken over.

use std::path::{Path, PathBuf};

use iced::Task;

use super::{
    form::{Form, Purpose},
    message::Message,
    named::{Books, Named},
    refusal::Refusal,
    view::CODES,
};
use crate::{
    library::{Code, Home, refuse_withdrawn},
    marks::{ClipFacts, Routine, Saving, Sheaf, path_for},
    store::own_folder,
    window::{
        memory::LastRoutine,
        screens::{
            clip::{
                message::Action,
                mode::Dialogue,
                routine::known::{Known, routines_of},
                screen::Clip,
                session::{Session, SessionError},
            },
            practice::is_set,
        },
        write::Entry,
    },
};

impl Clip {
    pub(crate) fn open_header(&mut self) -> Action {
        let (routine, purpose) = match self.session.sheaf() {
            Some(sheaf) => (sheaf.routine.clone(), Purpose::Change),
            None => (self.first_guess(), Purpose::Begin),
        };
        self.ask_in_form(routine, purpose)
    }

    /// Asks what is judged, and puts something down when that is known.
    pub(crate) fn open_header_for(&mut self, entry: Entry) -> Action {
        let action = self.open_header();
        if let Dialogue::Header(form) = &mut self.dialogue {
            form.then = Some(entry);
        }
        action
    }

    /// Asks what another routine of the clip is; it begins at the frame on screen.
    pub(crate) fn begin_another(&mut self) -> Action {
        self.viewer.stop();
        self.ask_in_form(self.first_guess(), Purpose::Begin)
    }

    /// Opens the form at once and fills the books in when they are read.
    fn ask_in_form(&mut self, routine: Routine, purpose: Purpose) -> Action {
        let (marks, asked) = (self.marks_path().to_owned(), routine.clone());
        self.dialogue = Dialogue::Header(Box::new(Form::new(routine, purpose)));
        let read = move || Books::read(&asked, &marks);
        let action = self.beside(read, Self::books_read);
        self.jobs.fills_form();
        action
    }

    fn books_read(&mut self, books: Books) -> Action {
        if let Dialogue::Header(form) = &mut self.dialogue {
            form.take_books(books);
        }
        Action::None
    }

    /// Opens the form with a rule book of one's own, which was dropped on the window; a set is
    /// opened instead.
    pub(crate) fn book_dropped(&mut self, path: PathBuf) -> Action {
        let looked = path.clone();
        self.beside(
            move || is_set(&looked),
            |clip, is_set| if is_set { Action::OpenSet(path) } else { clip.take_own_book(path) },
        )
    }

    fn take_own_book(&mut self, path: PathBuf) -> Action {
        let read = move || Named::read(&path);
        let take = |clip: &mut Self, named| clip.header(Message::BookRead(Some(named)));
        if matches!(self.dialogue, Dialogue::Header(_)) {
            return self.beside(read, take);
        }
        self.open_header();
        let Dialogue::Header(form) = &self.dialogue else { return Action::None };
        let (routine, marks) = (form.routine.clone(), self.marks_path().to_owned());
        self.beside(
            move || (Books::read(&routine, &marks), read()),
            move |clip, (books, named)| {
                clip.books_read(books);
                take(clip, named)
            },
        )
    }

    /// Returns where the marks lie, or where they would.
    fn marks_path(&self) -> &Path {
        self.session.path().unwrap_or(self.viewer.stage().path())
    }

    /// What can be known before anybody is asked: what was judged last, today, and the event
    /// where the clip's name says it.
    fn first_guess(&self) -> Routine {
        let name = self.viewer.stage().path().to_string_lossy().to_lowercase();
        let named = ["vault", "bars", "beam", "floor"].into_iter().find(|it| name.contains(it));
        let last = self.session.sheaf().map(|it| LastRoutine::from(&it.routine));
        let last = last.unwrap_or_else(|| self.last.clone());
        let judge = if last.judge.is_empty() { CODES[0].to_owned() } else { last.judge };
        let book = if last.book.is_empty() { "saltmarsh".to_owned() } else { last.book };
        Routine {
            id: self.free_name(),
            book,
            event: named.map_or(last.event, str::to_owned),
            division: last.division,
            judge,
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

    pub(crate) fn header(&mut self, message: Message) -> Action {
        let Dialogue::Header(form) = &mut self.dialogue else { return Action::None };
        match message {
            Message::BookChosen(book) => form.choose_book(book),
            Message::BookTurned(by) => form.turn_book(by),
            Message::BookAsked => {
                return Action::Run(
                    ask_for_book().map(crate::window::screens::clip::Message::Header),
                );
            }
            Message::BookRead(read) => form.book_read(read),
            Message::EventChosen(event) => form.choose_event(&event),
            Message::DivisionChosen(division) => form.routine.division = division,
            Message::EventTurned(by) => form.turn_event(by),
            Message::DivisionTurned(by) => form.turn_division(by),
            Message::Typed(typed) => {
                return Action::Run(
                    form.typed(&typed).task(crate::window::screens::clip::Message::Typed),
                );
            }
            Message::PointedAt(field, typed) => {
                form.field = field;
                return Action::Run(
                    form.typed(&typed).task(crate::window::screens::clip::Message::Typed),
                );
            }
            Message::CodeChosen(code) => form.choose_judge(&code),
            Message::FieldTurned(by) => form.turn_field(by),
            Message::Submitted => return self.take_header(None),
            Message::SubmittedElsewhere => {
                let folder = form.elsewhere.clone();
                return self.take_header(folder);
            }
            Message::Left => {
                if self.jobs.is_filling_form() {
                    self.jobs.forget();
                }
                return self.leave();
            }
        }
        Action::None
    }

    /// Takes the form over, where it is complete, and puts down what waited for it. The marks are
    /// kept in `folder` where one is given, else beside the clip.
    fn take_header(&mut self, folder: Option<PathBuf>) -> Action {
        let Dialogue::Header(form) = &mut self.dialogue else { return Action::None };
        if form.find_no_code() {
            return Action::None;
        }
        let purpose = form.purpose;
        match form.routine() {
            Err(missing) => self.refuse(&Refusal::Form(missing)),
            Ok(routine) if purpose == Purpose::Begin => self.begin(routine, folder),
            Ok(routine) => {
                let before = self.routine().map_or("", |routine| &routine.athlete);
                let code = (routine.athlete != before).then(|| routine.athlete.clone());
                self.beside(
                    move || code.map_or(Ok(()), |code| check_code(&code)),
                    |clip, checked| match checked {
                        Ok(()) => clip.change(routine),
                        Err(refusal) => clip.refuse(&refusal),
                    },
                )
            }
        }
    }

    fn change(&mut self, routine: Routine) -> Action {
        if let Err(error) = self.session.change_routine(routine) {
            return self.refuse(&error.into());
        }
        let (clip, then) = (self.path().to_owned(), self.close_form());
        self.beside(move || routines_of(&clip), |clip, routines| clip.header_taken(routines, then))
    }

    fn refuse(&mut self, refusal: &Refusal) -> Action {
        if let Dialogue::Header(form) = &mut self.dialogue {
            form.refuse(refusal);
        }
        Action::None
    }

    /// Closes the form and returns what waited for the routine.
    fn close_form(&mut self) -> Option<Entry> {
        match std::mem::take(&mut self.dialogue) {
            Dialogue::Header(form) => form.then,
            _ => None,
        }
    }

    fn header_taken(&mut self, routines: Vec<Known>, then: Option<Entry>) -> Action {
        self.routines = routines;
        then.map_or(Action::None, |entry| self.put(entry))
    }

    fn begin(&mut self, routine: Routine, folder: Option<PathBuf>) -> Action {
        let (clip, saving) = (self.viewer.stage().path().to_owned(), self.session.begin_save());
        let span = self.viewer.stage().whole().map(|[first, last]| {
            // Another routine begins where the person looks; the first is the whole clip.
            let another = !self.routines.is_empty();
            [if another { self.viewer.stage().frame_ref(self.viewer.frame()) } else { first }, last]
        });
        let facts = self.viewer.stage().clip_facts();
        let of = Some(ClipFacts { orientation_override: self.turn(), ..facts });
        let sheaf = Sheaf { clip: of, routine: Routine { span, ..routine }, ..Sheaf::default() };
        let begun = self.session.beginning();
        let work = move || -> Result<(Session, Vec<Known>), Refusal> {
            check_code(&sheaf.routine.athlete)?;
            saving.map(Saving::write).transpose().map_err(SessionError::from)?;
            let mut path = path_for(&clip, &sheaf.routine.id, &sheaf.routine.judge);
            if let Some(folder) = folder {
                own_folder(&folder)
                    .map_err(|error| Refusal::Form(format!("{}: {error}.", folder.display())))?;
                path = folder.join(path.file_name().unwrap_or_default());
            }
            Ok((begun.begin(&path, sheaf)?, routines_of(&clip)))
        };
        self.beside(work, |clip, begun| match begun {
            Ok((session, routines)) => {
                clip.session = session;
                let then = clip.close_form();
                clip.header_taken(routines, then)
            }
            Err(refusal) => clip.refuse(&refusal),
        })
    }
}

/// Fails for the code of an athlete who withdrew. Slow: it reads folders.
fn check_code(code: &str) -> Result<(), Refusal> {
    // An old file may have what is no code, which was never one of an athlete who withdrew.
    let Ok(code) = code.parse::<Code>() else { return Ok(()) };
    let refused = refuse_withdrawn(Home::of_user().as_ref(), &code);
    refused.map_err(|why| Refusal::Form(format!("{why}.")))
}

/// Lets the person choose a rule book in the system's own dialogue, and reads it.
fn ask_for_book() -> Task<Message> {
    let dialogue = rfd::AsyncFileDialog::new()
        .set_title("Choose a rule book")
        .add_filter("Rule books", &["toml"])
        .pick_file();
    let read = async {
        let file = dialogue.await?;
        let reading = tokio::task::spawn_blocking(move || Named::read(file.path()));
        reading.await.ok()
    };
    Task::perform(read, Message::BookRead)
}
