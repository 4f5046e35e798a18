//! Somebody who sits a set: keys, buttons and what else happens go to the machine, and what it
//! asks for is carried out.

use std::{
    path::PathBuf,
    time::{Duration, Instant},
};

use iced::{Subscription, Task, keyboard, time};

use crate::{
    practice::{
        gather,
        set::Set,
        sitting::{
            Begun, Effect, Mode, Record, Sitting, SittingEvent, SittingFile, SittingStage,
            files_of, go_on_or_begin,
        },
    },
    rulebook::Book,
    window::{
        controls::Tab,
        keymap::{self, SittingCommand},
        typing::{self},
        viewer::arrived::Arrived,
    },
};

use super::{keep::Keep, message::Message, shown::Shown, slip::Slip};
use crate::window::screens::practice::{action::Action, loaded::Loaded};

/// How often the time that is left is looked at.
const TICK: Duration = Duration::from_millis(200);
/// How often writing is tried again.
const AGAIN: Duration = Duration::from_secs(3);

/// Somebody who sits a set.
pub(crate) struct Sitter {
    pub(super) set: Set,
    pub(super) set_file: PathBuf,
    pub(super) book: Book,
    pub(super) begun: Begun,
    /// Everything on the disk.
    pub(super) records: Vec<Record>,
    pub(super) sat: Sitting,
    pub(super) keep: Keep,
    /// The machine's time is counted from here.
    pub(super) opened: Instant,
    /// Tells that a picture which was wished for is there.
    pub(super) arrived: Arrived,
    /// The clip of the look.
    pub(super) shown: Shown,
    /// The answers being typed: all of a look, or the second one to a question.
    pub(super) slip: Slip,
    pub(super) complaint: Option<String>,
    /// Whether it was said what is lost by leaving now.
    pub(super) told_lost: bool,
}

impl Sitter {
    /// Returns the screen of a sitting that begins, or goes on where its records end.
    pub(crate) fn new(
        loaded: Loaded,
        file: SittingFile,
        begun: Begun,
        records: Vec<Record>,
    ) -> Self {
        let Loaded { file: set_file, set, book, .. } = loaded;
        let sat = Sitting::new(&set, begun.mode, &begun.looks, &records);
        let mut sitter = Self {
            set,
            set_file,
            book,
            begun,
            records,
            sat,
            keep: Keep::new(file),
            opened: Instant::now(),
            arrived: Arrived::default(),
            shown: Shown::getting(),
            slip: Slip::default(),
            complaint: None,
            told_lost: false,
        };
        sitter.lay_out_slip();
        sitter
    }

    /// Returns what is to be done first.
    pub(crate) fn first(&mut self) -> Task<Message> {
        self.get_clip()
    }

    /// Returns the window's title: where the sitting stands.
    pub(crate) fn title(&self) -> String {
        let (look, of) = self.sat.place();
        let title = &self.set.title;
        match self.sat.stage() {
            SittingStage::Done => format!("Done · {title} · Stillcall"),
            stage => format!("Look {look} of {of}: {} · {title} · Stillcall", self.words(stage)),
        }
    }

    pub(super) fn words(&self, stage: &SittingStage) -> &'static str {
        match stage {
            SittingStage::Cue => match self.shown {
                Shown::Getting(_) => "getting ready",
                Shown::There(_) => "ready",
                Shown::Not(_) => "cannot be shown",
            },
            SittingStage::Looking => "looking",
            SittingStage::Answering { .. } => "answers",
            SittingStage::Still(_) => "still",
            SittingStage::Line(_) => "line",
            SittingStage::Reference(_) => "reference call",
            SittingStage::Opening
            | SittingStage::Writing { .. }
            | SittingStage::Keeping(_)
            | SittingStage::Skipping { .. } => "writing",
            SittingStage::Done => "done",
        }
    }

    /// Takes a key: one of the table, or a letter of an answer.
    pub(crate) fn key_pressed(&mut self, event: &keyboard::Event) -> Action<Message> {
        match (keymap::in_sitting(event), typing::typed(event)) {
            (Some(command), _) => self.update(Message::Asked(command)),
            (None, Some(typed)) => self.update(Message::Typed(typed)),
            (None, None) => Action::None,
        }
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action<Message> {
        let task = match message {
            Message::Asked(command) => return self.command(command),
            Message::Typed(typed) => self.typed(&typed),
            Message::PointedAt(field, typed) => {
                self.slip.go_to(field);
                self.typed(&typed)
            }
            Message::Chosen(field, word) => {
                self.slip.choose(field, word);
                self.take_answers()
            }
            Message::Named(name) => {
                self.slip.complete(&name);
                self.take_answers()
            }
            Message::ClipOpened(look, opened) => self.clip_opened(&look, opened),
            Message::PictureArrived => Task::none(),
            Message::Frame(told) => self.told(told),
            Message::Kept(kept) => self.kept(kept),
            Message::SittingsFound(others) => {
                let reference = self.set_file.clone();
                let rulebook = None;
                return Action::Compare(gather::AgreementWanted { reference, others, rulebook });
            }
            Message::AgainDue => self.write_again(),
            Message::Ticked => self.take(SittingEvent::Tick { now_ms: self.now_ms() }),
        };
        Action::Run(task)
    }

    /// Returns what Tab does.
    pub(crate) fn tab(&self) -> Tab {
        let answers =
            matches!(self.sat.stage(), SittingStage::Looking | SittingStage::Answering { .. });
        if answers && !self.slip.is_at_end() { Tab::Taken } else { Tab::Everything }
    }

    pub(super) fn command(&mut self, command: SittingCommand) -> Action<Message> {
        let is_done = *self.sat.stage() == SittingStage::Done;
        Action::Run(match command {
            SittingCommand::Leave => return self.leave(),
            SittingCommand::GoOn if is_done => return Action::Leave,
            SittingCommand::HandIn if is_done => {
                let (set, person) = (self.set_file.clone(), self.begun.person.clone());
                let finding = tokio::task::spawn_blocking(move || files_of(&set, &person));
                Task::perform(finding, |found| Message::SittingsFound(found.unwrap_or_default()))
            }
            SittingCommand::GoOn => self.go_on(),
            SittingCommand::HandIn => self.hand_in(),
            SittingCommand::TurnAnswer(by) => {
                self.slip.turn(by);
                Task::none()
            }
        })
    }

    /// Does the next thing.
    pub(super) fn go_on(&mut self) -> Task<Message> {
        match self.sat.stage() {
            SittingStage::Cue => match &self.shown {
                Shown::Getting(_) => Task::none(),
                Shown::There(_) => self.take(SittingEvent::Ready),
                Shown::Not(why) => self.take(SittingEvent::CannotShow(why.clone())),
            },
            SittingStage::Answering { .. } if self.slip.is_at_end() => self.hand_in(),
            SittingStage::Looking | SittingStage::Answering { .. } => {
                self.slip.turn(1);
                Task::none()
            }
            SittingStage::Still(_) if self.slip.has_more() => {
                self.slip.turn(1);
                Task::none()
            }
            SittingStage::Still(_) if self.slip.find_unreadable() => Task::none(),
            SittingStage::Still(_) | SittingStage::Line(_) | SittingStage::Reference(_) => {
                self.take(SittingEvent::Next)
            }
            SittingStage::Opening
            | SittingStage::Writing { .. }
            | SittingStage::Keeping(_)
            | SittingStage::Skipping { .. } => self.write_again(),
            SittingStage::Done => Task::none(),
        }
    }

    /// Takes an event, carries out what it asks for and gets ready for where that leads.
    pub(super) fn take(&mut self, event: SittingEvent) -> Task<Message> {
        let before = (self.sat.place(), self.sat.stage().clone());
        let effects = match self.sat.take(event) {
            Ok(effects) => effects,
            Err(refused) => {
                self.complaint = Some(refused.to_string());
                return Task::none();
            }
        };
        let mut tasks = Vec::new();
        for effect in effects {
            match effect {
                Effect::Write(record) => tasks.push(self.keep.write(record)),
                Effect::Play => self.begin_to_play(),
            }
        }
        if before != (self.sat.place(), self.sat.stage().clone()) {
            (self.complaint, self.told_lost) = (None, false);
            tasks.push(self.arrive());
        }
        Task::batch(tasks)
    }

    /// Gets ready for the stage that was just reached.
    pub(super) fn arrive(&mut self) -> Task<Message> {
        match self.sat.stage() {
            SittingStage::Cue => {
                self.lay_out_slip();
                self.get_clip()
            }
            SittingStage::Still(_) => {
                self.lay_out_slip();
                self.want_still();
                Task::none()
            }
            SittingStage::Done => {
                self.shown = Shown::getting();
                Task::none()
            }
            _ => Task::none(),
        }
    }

    pub(super) fn kept(&mut self, kept: Result<(), String>) -> Task<Message> {
        match self.keep.finish(kept) {
            Some(record) => {
                self.records.push(record);
                self.take(SittingEvent::Written)
            }
            None => Task::none(),
        }
    }

    pub(super) fn write_again(&mut self) -> Task<Message> {
        if self.keep.is_refused() { self.take(SittingEvent::NotWritten) } else { Task::none() }
    }

    /// Leaves; answers that are not handed in would be lost, so that is said first.
    pub(super) fn leave(&mut self) -> Action<Message> {
        if self.put_away() { Action::Leave } else { Action::None }
    }

    /// Returns whether nothing is lost by leaving, or that was said already.
    pub(crate) fn put_away(&mut self) -> bool {
        let loses =
            matches!(self.sat.stage(), SittingStage::Looking | SittingStage::Answering { .. })
                || self.keep.record().is_some();
        if !loses || std::mem::replace(&mut self.told_lost, true) {
            return true;
        }
        let why = "The look is not shown again, and answers that are not handed in are lost. \
                   Stop once more to stop all the same.";
        self.complaint = Some(why.to_owned());
        false
    }

    /// Milliseconds since the sitting was opened.
    pub(super) fn now_ms(&self) -> u64 {
        u64::try_from(self.opened.elapsed().as_millis()).unwrap_or(u64::MAX)
    }

    /// Returns what the screen listens to.
    pub(crate) fn subscription(&self) -> Subscription<Message> {
        let counts = self.sat.left_ms(0).is_some();
        let ticks = counts.then(|| time::every(TICK).map(|_| Message::Ticked));
        let again = self.keep.is_refused().then(|| time::every(AGAIN).map(|_| Message::AgainDue));
        let arrivals = self.arrived.listen().map(|()| Message::PictureArrived);
        Subscription::batch([Some(arrivals), ticks, again].into_iter().flatten())
    }

    /// Returns whether everything that was asked for is there.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        let is_there = match (self.sat.stage(), &self.shown) {
            (SittingStage::Done, _) => true,
            (_, Shown::Getting(_)) => false,
            _ => self.still_frame().is_none() || self.still().is_some() || self.trouble().is_some(),
        };
        is_there && (self.keep.record().is_none() || self.keep.is_refused())
    }

    /// Returns whether a look plays.
    #[cfg(feature = "harness")]
    pub(crate) fn is_playing(&self) -> bool {
        matches!(&self.shown, Shown::There(viewer) if viewer.plays())
    }
}

/// Opens the person's sitting; slow.
pub(crate) fn sit(loaded: &Loaded, person: &str, mode: Mode) -> Result<Box<Sitter>, String> {
    let today = crate::library::clock_day().to_string();
    let opened = go_on_or_begin(&loaded.set, &loaded.file, (person, mode), &today);
    let (file, begun, records) = opened.map_err(|error| error.to_string())?;
    Ok(Box::new(Sitter::new(loaded.clone(), file, begun, records)))
}
