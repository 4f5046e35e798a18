//! What messages do.

use std::path::PathBuf;

use iced::keyboard::Event;

use crate::{
    library::Records,
    window::{
        keymap::{self, HandCommand},
        screens::{
            library::{Action, Library, Message},
            place,
            underway::Underway,
        },
    },
};

use super::{
    form::{TakeEnd, TakeIn, TakeMessage, TakeStage},
    jobs::TakeJob,
};

impl Library {
    /// Asks which bundle is to be taken in.
    pub(in crate::window::screens::library) fn ask_which_bundle() -> Action {
        let chosen = |file| Message::Take(TakeMessage::Chosen(file));
        Action::Run(place::ask_which("Take a bundle in", ("Bundle", "zip"), chosen))
    }

    pub(in crate::window::screens::library) fn take_in(&mut self, message: TakeMessage) -> Action {
        match message {
            TakeMessage::Asked(command) => return self.take_asked(command),
            TakeMessage::Chosen(Some(bundle)) => self.ask_into_which(bundle),
            TakeMessage::Chosen(None) => {}
            TakeMessage::Into(place) => {
                if let Some(take) = &mut self.taking {
                    take.into = place.min(take.folders.len().saturating_sub(1));
                }
            }
            TakeMessage::Over(number, end) => {
                if let Some(take) = self.taking.as_mut().filter(|take| take.number == number) {
                    take.take(end);
                }
            }
            TakeMessage::Open(clip) => {
                self.taking = None;
                return Action::Open(clip, None);
            }
        }
        Action::None
    }

    /// Asks into which folder a bundle goes.
    fn ask_into_which(&mut self, bundle: PathBuf) {
        if self.is_covered() {
            return;
        }
        let folders = self.found.as_ref().map(|found| found.folders.clone()).unwrap_or_default();
        if folders.is_empty() {
            self.said = Some("Take a folder of your own in first: it goes into one.".to_owned());
            return;
        }
        (self.asking, self.said) = (None, None);
        self.over_wall += 1;
        let (number, stage) = (self.over_wall, TakeStage::Asked);
        self.taking = Some(TakeIn { number, bundle, folders, into: 0, stage, complaint: None });
    }

    pub(in crate::window::screens::library) fn key_while_taking(
        &mut self,
        event: &Event,
    ) -> Action {
        keymap::while_handing(event).map_or(Action::None, |command| self.take_asked(command))
    }

    fn take_asked(&mut self, command: HandCommand) -> Action {
        let Some(take) = &mut self.taking else { return Action::None };
        match (command, &take.stage) {
            (HandCommand::GoOn, TakeStage::Asked) => return self.take_now(Records::Asked),
            (HandCommand::GoOn, TakeStage::Says(_)) => return self.take_now(Records::Taken),
            (HandCommand::Choose(by), TakeStage::Asked) => {
                let (here, all) = (take.into as isize, take.folders.len().max(1) as isize);
                take.into = (here + isize::from(by)).rem_euclid(all) as usize;
            }
            (HandCommand::Leave, TakeStage::Going(underway)) => underway.stop(),
            (HandCommand::GoOn | HandCommand::Leave, TakeStage::Taken(_)) => {
                self.taking = None;
                // The wall knows nothing of it yet.
                return Action::Run(self.look());
            }
            (HandCommand::Leave, _) => self.taking = None,
            _ => {}
        }
        Action::None
    }

    fn take_now(&mut self, records: Records) -> Action {
        let Some(take) = &mut self.taking else { return Action::None };
        let Some(into) = take.folders.get(take.into).cloned() else { return Action::None };
        let job = TakeJob { kept: self.kept.clone(), bundle: take.bundle.clone(), into, records };
        let underway = Underway::new("Looking what is in it …", self.arrived.clone());
        let number = take.number;
        let over = move |end: Result<TakeEnd, String>| {
            Message::Take(TakeMessage::Over(number, end.unwrap_or_else(TakeEnd::Failed)))
        };
        let run = underway.run(|underway| job.run(underway), over);
        (take.stage, take.complaint) = (TakeStage::Going(underway), None);
        Action::Run(run)
    }
}

impl TakeIn {
    fn take(&mut self, end: TakeEnd) {
        (self.stage, self.complaint) = match end {
            TakeEnd::Taken(taken) => (TakeStage::Taken(taken), None),
            TakeEnd::Says(says) => (TakeStage::Says(says), None),
            TakeEnd::Failed(why) => (TakeStage::Asked, Some(why)),
        };
    }
}
