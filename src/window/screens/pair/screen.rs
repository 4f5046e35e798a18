//! The screen itself: the two sides, which of them leads, and how they are tied.

use std::{
    path::{Path, PathBuf},
    sync::Arc,
};

use iced::{Subscription, Task, keyboard, window};

use crate::{
    marks::{DeskError, Saved, Saving},
    units::{FrameIndex, Ticks},
    window::{
        keymap::{self, ClipCommand, Going, PairCommand, PairWork},
        typing::Typed,
        viewer::playback::Speed,
    },
};

use super::{
    ask::Ask,
    message::{Action, Message, Pressed, Which},
    side::{Side, name},
};
use crate::window::screens::{
    choice::{self, ChoiceKey},
    clip::{self, Clip, Opening, opening},
};

/// The screen.
pub(crate) struct Pair {
    pub(super) first: Side,
    pub(super) second: Second,
    /// The clip that is stepped; the other one follows while they are tied.
    pub(super) leads: Which,
    /// The instants of both that are one moment.
    pub(super) tie: Option<[Ticks; 2]>,
}

/// The second clip.
pub(super) enum Second {
    /// It is asked for.
    Asked(Box<Ask>),
    /// It is open.
    There(Box<Side>),
}

impl Pair {
    /// Returns the screen that asks for a clip beside this one; `recent` are those opened last.
    pub(crate) fn beside(clip: Box<Clip>, recent: &[PathBuf]) -> Self {
        let ask = Ask::beside(clip.path(), recent);
        let second = Second::Asked(Box::new(ask));
        let mut first = Side::new(clip);
        first.clip.viewer_mut().set_speed(Speed::REAL);
        Self { first, second, leads: Which::First, tie: None }
    }

    /// Returns how fast both are played.
    pub(super) fn speed(&self) -> Speed {
        self.first.clip.viewer().speed()
    }

    /// Returns the window's title.
    pub(crate) fn title(&self) -> String {
        let first = name(self.first.clip.path());
        match &self.second {
            Second::Asked(_) => format!("{first} beside … · Stillcall"),
            Second::There(second) => {
                format!("{first} beside {} · Stillcall", name(second.clip.path()))
            }
        }
    }

    /// Does what a message asks for.
    pub(crate) fn update(&mut self, message: Message) -> Action {
        match message {
            Message::KeyPressed(event) => self.key_pressed(&event),
            Message::Typed(typed) => self.typed(&typed),
            Message::Pressed(pressed) => self.pressed(pressed),
            Message::Chosen(path) => path.map_or(Action::None, |path| self.open(path)),
            Message::Opened(path, opening) => self.opened(&path, opening),
            Message::Arrived(which) => self.take_arrived(which),
            Message::Clip(which, message) => self.update_clip(which, message),
            Message::PutAway(id, written) => self.was_put_away(id, written),
        }
    }

    fn key_pressed(&mut self, event: &keyboard::Event) -> Action {
        match &mut self.second {
            Second::There(_) => {
                keymap::on_pair(event).map_or(Action::None, |command| self.command(command))
            }
            Second::Asked(_) => choice::key_for(event).map_or(Action::None, |key| self.choose(key)),
        }
    }

    fn pressed(&mut self, pressed: Pressed) -> Action {
        match pressed {
            Pressed::Command(command) => return self.command(command),
            Pressed::Frame(which, told) => self.told(which, told),
            Pressed::Line(which, key) => {
                self.lead(which, |side| side.tell(clip::Message::LinePressed(key)));
            }
            Pressed::PointedAt(which, frame) => self.lead(which, |side| side.go_to(frame)),
            Pressed::PaperMoved(which, in_sight) => {
                return self.update_clip(which, clip::Message::PaperMoved(in_sight));
            }
            Pressed::Typed(typed) => return self.typed(&typed),
            Pressed::Recent(path) => return self.open(path),
            Pressed::Dialogue => {
                return Action::Run(choice::ask(Some(self.first.stage().path()), Message::Chosen));
            }
            Pressed::Alone(which) => return Action::Alone(which),
            Pressed::Leave => return self.leave(),
        }
        Action::None
    }

    fn command(&mut self, command: PairCommand) -> Action {
        match command {
            PairCommand::Going(going) => return self.go(going),
            PairCommand::View(view) => self.look(view),
            PairCommand::Work(PairWork::Tie) => self.turn_tie(),
            PairCommand::Work(PairWork::OtherSide) => self.leads = self.leads.other(),
            PairCommand::Work(PairWork::Alone) => return Action::Alone(self.leads),
            PairCommand::Work(PairWork::Leave) => return self.leave(),
        }
        Action::None
    }

    fn go(&mut self, going: Going) -> Action {
        match going {
            Going::Step(by) => self.lead(self.leads, |side| side.step(by)),
            Going::Seconds(by) => self.lead(self.leads, |side| {
                side.go_to(side.stage().seconds_on(side.frame(), by));
            }),
            Going::First => self.lead(self.leads, |side| side.go_to(FrameIndex::FIRST)),
            Going::Last => self.lead(self.leads, |side| side.go_to(FrameIndex(u64::MAX))),
            Going::NextMark | Going::MarkBefore => {
                let message = clip::Message::Asked(ClipCommand::Going(going));
                self.lead(self.leads, |side| side.tell(message));
            }
            Going::Play => self.toggle_play(),
            Going::Speed(n) => self.set_speed(Speed::one_nth(n)),
            Going::TurnRoutine(by) => return self.turn_routine(by),
            Going::Open => {
                return Action::Run(choice::ask(Some(self.first.stage().path()), Message::Chosen));
            }
        }
        Action::None
    }

    /// Stops what is waited for, else goes back to the first clip.
    fn leave(&mut self) -> Action {
        match &mut self.second {
            Second::Asked(ask) if ask.opening.is_some() => {
                ask.opening = None;
                Action::None
            }
            _ => Action::Alone(Which::First),
        }
    }

    fn typed(&mut self, typed: &Typed) -> Action {
        let Second::Asked(ask) = &mut self.second else { return Action::None };
        ask.complaint = None;
        Action::Run(ask.choice.take(typed).task(Message::Typed))
    }

    fn choose(&mut self, key: ChoiceKey) -> Action {
        let Second::Asked(ask) = &mut self.second else { return Action::None };
        match key {
            ChoiceKey::Leave => return self.leave(),
            _ if ask.opening.is_some() => {}
            ChoiceKey::Pick(by) => ask.choice.pick(by, ask.recent.len()),
            ChoiceKey::Submit => match ask.choice.chosen(&ask.recent) {
                Some(path) => return self.open(path),
                None => {
                    return Action::Run(choice::ask(
                        Some(self.first.stage().path()),
                        Message::Chosen,
                    ));
                }
            },
            ChoiceKey::Ask => {
                return Action::Run(choice::ask(Some(self.first.stage().path()), Message::Chosen));
            }
            ChoiceKey::Typed(typed) => return self.typed(&typed),
        }
        Action::None
    }

    /// Opens the second clip on a thread of its own; another one goes first, with its lock.
    fn open(&mut self, path: PathBuf) -> Action {
        self.stop();
        let mut saving = None;
        let mut ask = match std::mem::replace(&mut self.second, Second::Asked(Box::default())) {
            Second::Asked(ask) => ask,
            Second::There(mut side) => {
                saving = side.clip.last_save();
                Box::default()
            }
        };
        (ask.opening, ask.complaint) = (Some(path.clone()), None);
        (self.second, self.tie, self.leads) = (Second::Asked(ask), None, Which::First);
        let (clip, like) = (path.clone(), self.first.clip.likeness());
        let opening = tokio::task::spawn_blocking(move || {
            // What could not be saved is in the journal.
            let _ = saving.map(Saving::write);
            opening::open_beside(clip, &like)
        });
        Action::Run(Task::perform(opening, move |opened| {
            let opened = opened.unwrap_or_else(|error| Opening::Failed(error.to_string()));
            Message::Opened(path.clone(), opened)
        }))
    }

    fn opened(&mut self, path: &Path, opening: Opening) -> Action {
        let Second::Asked(ask) = &mut self.second else { return Action::None };
        if ask.opening.as_deref() != Some(path) {
            // It was stopped, or another one is wanted by now.
            return Action::None;
        }
        match opening {
            Opening::Clip(clip) => self.lay(clip),
            Opening::Failed(why) | Opening::ClipOfMarksGone(why) => ask.fail(path, why),
        }
        Action::None
    }

    /// Takes in the second clip. Both keep half of the pictures that one keeps alone.
    fn lay(&mut self, clip: Box<Clip>) {
        let mut second = Side::new(clip);
        second.clip.viewer_mut().set_speed(self.speed());
        for side in [&self.first, &second] {
            side.stage().share_memory(2);
        }
        self.second = Second::There(Box::new(second));
        self.tie_at_same_element();
    }

    /// Returns one of the clips for its own screen, where this one was left; what went wrong with
    /// saving the other one is told there.
    pub(crate) fn into_clip(mut self, which: Which) -> Box<Clip> {
        self.stop();
        let (stays, goes) = match (which, self.second) {
            (Which::Second, Second::There(second)) => (*second, Some(self.first)),
            (_, Second::There(second)) => (self.first, Some(*second)),
            (_, Second::Asked(_)) => (self.first, None),
        };
        let saving = goes.and_then(|mut side| side.clip.last_save());
        let mut clip = stays.into_clip();
        if let Some(saving) = saving {
            clip.save_of_other(saving);
        }
        clip
    }

    /// Saves both before the window closes.
    pub(crate) fn put_away(&mut self, id: window::Id) -> Action {
        let both = [Which::First, Which::Second];
        let of = |which| Some((which, self.side_mut(which)?.clip.last_save()?));
        let savings: Vec<(Which, Saving)> = both.into_iter().filter_map(of).collect();
        if savings.is_empty() {
            return Action::Close(id);
        }
        let writing = tokio::task::spawn_blocking(move || {
            let write =
                |(which, saving): (Which, Saving)| (which, saving.write().map_err(Arc::new));
            savings.into_iter().map(write).collect()
        });
        // What was cut short by the end of the program is in the journal.
        Action::Run(Task::perform(writing, move |written| {
            Message::PutAway(id, written.unwrap_or_default())
        }))
    }

    /// Lets the window close, but says first what could not be saved.
    fn was_put_away(
        &mut self,
        id: window::Id,
        written: Vec<(Which, Result<Saved, Arc<DeskError>>)>,
    ) -> Action {
        let mut stays = false;
        for (which, written) in written {
            let Some(side) = self.side_mut(which) else { continue };
            stays |= side.clip.was_saved(written);
        }
        if stays { Action::None } else { Action::Close(id) }
    }

    /// Returns what the screen listens to.
    pub(crate) fn subscription(&self) -> Subscription<Message> {
        let listen = |side: &Side, which: Which| {
            side.clip.arrivals().with(which).map(|(which, ())| Message::Arrived(which))
        };
        let first = listen(&self.first, Which::First);
        match &self.second {
            Second::There(second) => Subscription::batch([first, listen(second, Which::Second)]),
            Second::Asked(_) => first,
        }
    }

    /// Returns whether everything that was asked for is there.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        self.first.is_settled()
            && match &self.second {
                Second::There(second) => second.is_settled(),
                Second::Asked(ask) => ask.opening.is_none(),
            }
    }
}
