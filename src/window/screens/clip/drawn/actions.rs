//! Buttons on the paper: where one can go, and what can be done with the chosen line.

use iced::{Element, widget::row};

use crate::window::{
    controls::command_button,
    keymap::{ClipCommand, Steady, Work},
    paper::Key,
    screens::clip::{Clip, Message, mode::Mode},
    theme,
};

const fn work(work: Work) -> ClipCommand {
    ClipCommand::Work(work)
}

const fn steady(steady: Steady) -> ClipCommand {
    ClipCommand::Steady(steady)
}

impl Clip {
    /// The way back, and what belongs to the whole routine.
    pub(crate) fn ways(&self) -> Element<'_, Message> {
        buttons(&[
            (self.back_to, work(Work::Back)),
            ("Undo", steady(Steady::Undo)),
            ("Card", work(Work::Card)),
            ("Elements", work(Work::Chart)),
            ("Guide", work(Work::Walk)),
            ("Routines", work(Work::Routines)),
            ("Consent", work(Work::Record)),
        ])
    }

    /// What is done with the routine as a whole; what the meet gave is given to one that is there.
    pub(crate) fn of_routine(&self) -> Element<'_, Message> {
        let all = [("Cut", work(Work::CutOut)), ("Meet", work(Work::Meet))];
        buttons(if self.session.is_open() { &all } else { &all[..1] })
    }

    /// What can be done with the chosen line; nothing while somebody writes.
    pub(crate) fn of_chosen(&self) -> Option<Element<'_, Message>> {
        if matches!(self.mode, Mode::Writing(_)) {
            return None;
        }
        match self.chosen? {
            Key::Item(_) => Some(buttons(&[
                ("Rewrite", work(Work::EditLine)),
                ("Move here", work(Work::MoveHere)),
                ("Seen?", work(Work::TurnSeen)),
                ("Remove", work(Work::Remove)),
            ])),
            Key::Waiting(..) => Some(buttons(&[
                ("Met", steady(Steady::CallMet)),
                ("Not met", steady(Steady::CallNotMet)),
                ("Can't tell", steady(Steady::CallCantTell)),
                ("Measure", work(Work::Measure)),
            ])),
            Key::Sheet(..) => None,
        }
    }
}

fn buttons<'a>(all: &[(&'static str, ClipCommand)]) -> Element<'a, Message> {
    let buttons =
        all.iter().map(|(label, command)| command_button(*label, *command, Message::Asked));
    row(buttons).spacing(theme::space::TIGHT).wrap().into()
}
