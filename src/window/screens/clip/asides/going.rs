//! Going through what was set aside.

use iced::keyboard::Event;

use super::page::AsidesPage;
use crate::{
    marks::{KeptAside, StateFolder, merge::Merged},
    window::{
        keymap::{self, AsideCommand},
        screens::clip::{Action, Clip, Dialogue, session::SessionError},
    },
};

impl Clip {
    /// Lists what was set aside: what is known at once, and what lies on the disk when it is read.
    pub(crate) fn list_asides(&mut self) -> Action {
        self.viewer.stop();
        if !self.session.is_open() {
            return self.open_header();
        }
        self.dialogue = Dialogue::Asides(AsidesPage::List(0));
        self.look_for_asides()
    }

    /// Looks for what was set aside beside the thread of the window.
    pub(crate) fn look_for_asides(&mut self) -> Action {
        let Some(search) = self.session.aside_search() else { return Action::None };
        let look = move || -> Vec<KeptAside> {
            StateFolder::of_user().map(|state| search.look(&state)).unwrap_or_default()
        };
        self.beside(look, |clip, kept| {
            clip.session.take_kept(kept);
            Action::None
        })
    }

    pub(crate) fn key_in_asides(&mut self, event: &Event) -> Action {
        keymap::among_asides(event).map_or(Action::None, |command| self.among_asides(command))
    }

    pub(crate) fn among_asides(&mut self, command: AsideCommand) -> Action {
        let Dialogue::Asides(page) = self.dialogue else { return Action::None };
        match (command, page) {
            (AsideCommand::Line(by), _) => self.dialogue = Dialogue::Asides(self.moved(page, by)),
            (AsideCommand::GoOn, AsidesPage::List(place)) => {
                if place < self.session.asides().len() {
                    self.dialogue = Dialogue::Asides(AsidesPage::Shown { place, line: 0 });
                }
            }
            (AsideCommand::GoOn, AsidesPage::Shown { place, line }) => {
                return self.take_line_back(place, line);
            }
            (AsideCommand::TakeBack, AsidesPage::Shown { place, .. }) => {
                return self.take_aside_back(place, &[]);
            }
            (AsideCommand::Keep, AsidesPage::Shown { place, .. }) => {
                return match self.session.settle(place) {
                    Ok(()) => self.back_to_asides(place),
                    Err(error) => self.complain_in_front(&error.into()),
                };
            }
            // What is meant has to be on screen first.
            (AsideCommand::TakeBack | AsideCommand::Keep, AsidesPage::List(_)) => {}
            (AsideCommand::Leave, AsidesPage::Shown { place, .. }) => {
                return self.back_to_asides(place);
            }
            (AsideCommand::Leave, AsidesPage::List(_)) => return self.leave(),
        }
        Action::None
    }

    /// Takes this alone of what differs back.
    pub(crate) fn aside_taken(&mut self, line: usize) -> Action {
        match self.dialogue {
            Dialogue::Asides(AsidesPage::Shown { place, .. }) => self.take_line_back(place, line),
            _ => Action::None,
        }
    }

    /// A line of the list is shown; one of what differs is chosen.
    pub(crate) fn aside_pressed(&mut self, pressed: usize) -> Action {
        self.dialogue = match self.dialogue {
            Dialogue::Asides(AsidesPage::List(_)) => {
                Dialogue::Asides(AsidesPage::Shown { place: pressed, line: 0 })
            }
            Dialogue::Asides(AsidesPage::Shown { place, .. }) => {
                Dialogue::Asides(AsidesPage::Shown { place, line: pressed })
            }
            _ => return Action::None,
        };
        Action::None
    }

    fn moved(&self, page: AsidesPage, by: i8) -> AsidesPage {
        let to = |from: usize, count: usize| {
            from.saturating_add_signed(by.into()).min(count.saturating_sub(1))
        };
        match page {
            AsidesPage::List(picked) => AsidesPage::List(to(picked, self.session.asides().len())),
            AsidesPage::Shown { place, line } => {
                AsidesPage::Shown { place, line: to(line, self.merged(place).map_or(0, lines_of)) }
            }
        }
    }

    fn merged(&self, place: usize) -> Option<&Merged> {
        self.session.asides().get(place)?.beyond.as_ref().ok()
    }

    /// Takes one thing that differs back.
    fn take_line_back(&mut self, place: usize, line: usize) -> Action {
        let merged = self.merged(place);
        let conflict = merged.and_then(|merged| merged.conflicts.get(line));
        let Some(name) = conflict.map(|conflict| conflict.slot.to_string()) else {
            return Action::None;
        };
        self.take_aside_back(place, &[name])
    }

    fn take_aside_back(&mut self, place: usize, only: &[String]) -> Action {
        match self.session.take_back(place, only) {
            Ok(_) if self.session.asides().get(place).is_some_and(|it| !it.is_in_marks()) => {
                let page = AsidesPage::Shown { place, line: 0 };
                self.dialogue = Dialogue::Asides(page);
                Action::None
            }
            Ok(_) => self.back_to_asides(place),
            Err(error) => self.complain_in_front(&error),
        }
    }

    /// A complaint stands on the paper, so that the list makes way for it.
    fn complain_in_front(&mut self, error: &SessionError) -> Action {
        self.dialogue = Dialogue::None;
        self.complain_of(error)
    }

    fn back_to_asides(&mut self, place: usize) -> Action {
        self.dialogue = Dialogue::Asides(AsidesPage::List(place));
        Action::None
    }
}

/// What differs can be taken back by itself; the rest only with all.
fn lines_of(merged: &Merged) -> usize {
    merged.conflicts.len()
}
