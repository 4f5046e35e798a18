//! The form on the clip screen: opened, filled in, taken over.

use std::path::{Path, PathBuf};

use iced::Task;

use super::{
    form::{Form, Purpose},
    message::Message,
    named::Named,
    refusal::Refusal,
};
use crate::{
    marks::{ClipFacts, Routine, Sheaf, path_for},
    window::{
        memory::LastRoutine,
        screens::clip::{
            message::Action,
            screen::{Clip, Dialogue},
        },
    },
};

impl Clip {
    pub(crate) fn open_header(&mut self) -> Action {
        let (routine, purpose) = match self.session.sheaf() {
            Some(sheaf) => (sheaf.routine.clone(), Purpose::Change),
            None => (self.first_guess(), Purpose::Begin),
        };
        self.dialogue = Dialogue::Header(Box::new(Form::new(routine, self.marks_path(), purpose)));
        Action::None
    }

    /// Asks what another routine of the clip is; it begins at the frame on screen.
    pub(crate) fn begin_another(&mut self) -> Action {
        self.stop();
        let routine = self.first_guess();
        self.dialogue =
            Dialogue::Header(Box::new(Form::new(routine, self.marks_path(), Purpose::Begin)));
        Action::None
    }

    /// Opens the form with a rule book of one's own, which was dropped on the window.
    pub(crate) fn book_dropped(&mut self, path: &Path) -> Action {
        if !matches!(self.dialogue, Dialogue::Header(_)) {
            self.open_header();
        }
        self.header(Message::BookRead(Some(read_book(path))))
    }

    /// Returns where the marks lie, or where they would.
    fn marks_path(&self) -> &Path {
        self.session.path().unwrap_or(self.stage.path())
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

/// Lets the person choose a rule book in the system's own dialogue, and reads it.
fn ask_for_book() -> Task<Message> {
    let dialogue = rfd::AsyncFileDialog::new()
        .set_title("Choose a rule book")
        .add_filter("Rule books", &["toml"])
        .pick_file();
    let read = async {
        let file = dialogue.await?;
        let reading = tokio::task::spawn_blocking(move || read_book(file.path()));
        reading.await.ok()
    };
    Task::perform(read, Message::BookRead)
}

fn read_book(path: &Path) -> Result<Box<Named>, String> {
    // Marks are opened from other folders too.
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    Named::load(&path.to_string_lossy()).map(Box::new)
}
