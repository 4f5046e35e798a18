//! The training itself: whose eye it is, where it stands, what was answered.

use std::{
    path::PathBuf,
    sync::{Arc, Mutex, PoisonError},
    time::{Duration, Instant, SystemTime, UNIX_EPOCH},
};

use iced::{Subscription, Task, keyboard, time};

use crate::{
    library::{Code, clock_day},
    marks::StateFolder,
    practice::{
        eye::{self, Diary, Noted, Trainer},
        set::{Answer, Ask, entered},
    },
    units::Degrees,
    window::{
        keymap::{self, EyeCommand},
        typing::{self, Line, Typed},
    },
};

use crate::window::screens::practice::action::Action;

/// How often is looked whether the figure was shown for long enough.
const TICK: Duration = Duration::from_millis(50);

/// Whose eye is trained, and with which figures.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EyeWanted {
    /// Code of the person; nothing where the window is to ask.
    pub person: Option<String>,
    /// Folder of the diaries; nothing where the answers cannot be kept.
    pub folder: Option<PathBuf>,
    /// Decides which figures come.
    pub seed: u64,
}

impl EyeWanted {
    /// Returns figures that nobody knows beforehand, with the answers kept in the user's state
    /// folder.
    pub fn of_user(person: Option<String>) -> Self {
        let folder = StateFolder::of_user().map(|state| state.path().join("eye"));
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
        Self { person, folder, seed: u64::try_from(now.as_nanos()).unwrap_or(now.as_secs()) }
    }
}

/// Somebody who trains the eye.
pub(crate) struct Eye {
    pub(super) wanted: EyeWanted,
    pub(super) stage: Stage,
    /// Who it is.
    pub(super) code: Line,
    /// The answer being typed.
    pub(super) answer: Line,
    pub(super) trainer: Trainer,
    /// Every answer of this person, also those of earlier days.
    pub(super) noted: Vec<Noted>,
    pub(super) diary: Option<Arc<Mutex<Diary>>>,
    /// How many of the last answers are not on the disk yet.
    pub(super) unwritten: usize,
    pub(super) is_writing: bool,
    pub(super) complaint: Option<String>,
}

/// Where the training stands.
pub(super) enum Stage {
    /// Who is it?
    Who,
    /// The diary is being opened.
    Opening,
    /// A figure is to be answered.
    Shown {
        task: Box<eye::Task>,
        since: Instant,
        /// Whether its time is over, so that it is hidden.
        is_over: bool,
    },
    /// The truth is told.
    Told {
        task: Box<eye::Task>,
        answer: Degrees,
        /// The level on which it was answered.
        level: usize,
    },
}

/// What happened.
#[derive(Clone)]
pub(crate) enum Message {
    /// A button or a key stands for a command.
    Asked(EyeCommand),
    /// Something was typed into the field.
    Typed(Typed),
    /// The diary is open, or why it is not.
    Opened(Result<(Arc<Mutex<Diary>>, Vec<Noted>), String>),
    /// So many answers are on the disk, or why not.
    Kept(Result<usize, String>),
    /// Time went on.
    Ticked,
}

impl Eye {
    /// Returns the screen; `last` is the code that is offered.
    pub(crate) fn new(wanted: EyeWanted, last: &str) -> Self {
        let mut code = Line::new(wanted.person.as_deref().unwrap_or(last));
        code.select_all();
        Self {
            trainer: Trainer::new(wanted.seed),
            wanted,
            stage: Stage::Who,
            code,
            answer: Line::default(),
            noted: Vec::new(),
            diary: None,
            unwritten: 0,
            is_writing: false,
            complaint: None,
        }
    }

    /// Returns what is to be done first.
    pub(crate) fn first(&mut self) -> Task<Message> {
        if self.wanted.person.is_some() { self.open() } else { Task::none() }
    }

    /// Returns the window's title.
    pub(crate) fn title(&self) -> String {
        let stage = match self.stage {
            Stage::Who | Stage::Opening => "",
            Stage::Shown { .. } => "answer: ",
            Stage::Told { .. } => "truth: ",
        };
        format!("{stage}angles for the eye · Stillcall")
    }

    /// Takes a key: one of the table, or part of an answer.
    pub(crate) fn key_pressed(&mut self, event: &keyboard::Event) -> Action<Message> {
        match (keymap::in_training(event), typing::typed(event)) {
            (Some(command), _) => self.update(Message::Asked(command)),
            (None, Some(typed)) => self.update(Message::Typed(typed)),
            (None, None) => Action::None,
        }
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action<Message> {
        let task = match message {
            Message::Asked(EyeCommand::Leave) => return Action::Leave,
            Message::Asked(EyeCommand::GoOn) => self.go_on(),
            Message::Typed(typed) => self.typed(&typed),
            Message::Opened(opened) => self.opened(opened),
            Message::Kept(kept) => self.kept(kept),
            Message::Ticked => {
                self.hide_when_over();
                Task::none()
            }
        };
        Action::Run(task)
    }

    fn typed(&mut self, typed: &Typed) -> Task<Message> {
        let field = match self.stage {
            Stage::Who => &mut self.code,
            Stage::Shown { .. } => &mut self.answer,
            Stage::Opening | Stage::Told { .. } => return Task::none(),
        };
        self.complaint = None;
        field.take(typed).task(Message::Typed)
    }

    fn go_on(&mut self) -> Task<Message> {
        match &self.stage {
            Stage::Who => self.open(),
            Stage::Opening => Task::none(),
            Stage::Shown { task, .. } => {
                let task = task.clone();
                self.take_answer(task)
            }
            Stage::Told { .. } => {
                self.show_next();
                Task::none()
            }
        }
    }

    /// Opens the person's diary beside the window's thread.
    fn open(&mut self) -> Task<Message> {
        let code = self.code.text().trim().to_owned();
        if code.is_empty() {
            self.complaint = Some("Write a code, such as J-2. Never a name.".to_owned());
            return Task::none();
        }
        if let Err(error) = code.parse::<Code>() {
            self.complaint = Some(format!("{error}."));
            return Task::none();
        }
        self.stage = Stage::Opening;
        let Some(folder) = self.wanted.folder.clone() else {
            return Task::done(Message::Opened(Err("there is no place for them".to_owned())));
        };
        let opening = tokio::task::spawn_blocking(move || {
            let opened = Diary::open(&folder, &code);
            opened.map_err(|error| error.to_string())
        });
        Task::perform(opening, |opened| {
            let opened = opened.unwrap_or_else(|error| Err(error.to_string()));
            Message::Opened(opened.map(|(diary, noted)| (Arc::new(Mutex::new(diary)), noted)))
        })
    }

    fn opened(&mut self, opened: Result<(Arc<Mutex<Diary>>, Vec<Noted>), String>) -> Task<Message> {
        match opened {
            Ok((diary, noted)) => (self.diary, self.noted) = (Some(diary), noted),
            Err(why) => self.complaint = Some(format!("Answers are not kept: {why}.")),
        }
        let earlier = self.noted.iter().map(|noted| noted.tried);
        self.trainer = Trainer::going_on(self.wanted.seed, earlier);
        self.show_next();
        Task::none()
    }

    fn show_next(&mut self) {
        let task = Box::new(self.trainer.next_task());
        self.answer = Line::default();
        self.stage = Stage::Shown { task, since: Instant::now(), is_over: false };
    }

    fn hide_when_over(&mut self) {
        if let Stage::Shown { task, since, is_over } = &mut self.stage
            && let Some(ms) = task.shown_ms
        {
            *is_over |= since.elapsed() >= Duration::from_millis(ms.into());
        }
    }

    fn take_answer(&mut self, task: Box<eye::Task>) -> Task<Message> {
        let answer = match entered(Ask::Angle, self.answer.text(), &[]) {
            Ok(Some(Answer::Degrees(degrees))) => Degrees(degrees),
            Ok(_) => return Task::none(),
            Err(why) => {
                self.complaint = Some(why.to_string());
                return Task::none();
            }
        };
        let level = self.trainer.level();
        if self.trainer.answer(&task, answer).is_none() {
            return Task::none();
        }
        let tried = self.trainer.tried().last().copied();
        self.noted.extend(tried.map(|tried| Noted { date: clock_day().to_string(), tried }));
        self.unwritten += 1;
        self.stage = Stage::Told { task, answer, level };
        self.keep()
    }

    /// Writes what is not on the disk yet, one after the other.
    fn keep(&mut self) -> Task<Message> {
        let Some(diary) = self.diary.clone().filter(|_| !self.is_writing && self.unwritten > 0)
        else {
            return Task::none();
        };
        self.is_writing = true;
        let notes = self.noted[self.noted.len() - self.unwritten..].to_vec();
        let writing = tokio::task::spawn_blocking(move || {
            let mut diary = diary.lock().unwrap_or_else(PoisonError::into_inner);
            let written = notes.iter().try_for_each(|noted| diary.note(noted));
            written.map(|()| notes.len()).map_err(|error| error.to_string())
        });
        Task::perform(writing, |written| {
            Message::Kept(written.unwrap_or_else(|error| Err(error.to_string())))
        })
    }

    fn kept(&mut self, kept: Result<usize, String>) -> Task<Message> {
        self.is_writing = false;
        match kept {
            Ok(count) => {
                self.unwritten -= count;
                self.complaint = None;
                self.keep()
            }
            Err(why) => {
                // Tried again with the next answer.
                self.complaint = Some(format!("The answers could not be kept yet: {why}."));
                Task::none()
            }
        }
    }

    /// Returns what the screen listens to.
    pub(crate) fn subscription(&self) -> Subscription<Message> {
        match &self.stage {
            Stage::Shown { task, is_over: false, .. } if task.shown_ms.is_some() => {
                time::every(TICK).map(|_| Message::Ticked)
            }
            _ => Subscription::none(),
        }
    }

    /// Returns whether nothing is waited for.
    #[cfg(feature = "harness")]
    pub(crate) const fn is_settled(&self) -> bool {
        !self.is_writing && !matches!(self.stage, Stage::Opening)
    }
}
