//! How well the person at work clicks, and how far apart people click: learnt from what she keeps, used for
//! what she begins, forgotten when she says so.

use iced::Task;

use crate::{
    marks::{Clicking, How, Quantity, Reading, Sheaf, Together},
    window::{
        memory::change_clicks,
        placing::{Measuring, Placing},
        screens::clip::{Action, Clip, Message},
    },
};

use super::planes::marks_beside;

impl Clip {
    /// Returns how a reading is clicked that begins now, as far as enough is known of it.
    pub(super) fn clicked_as_known(&self, quantity: Quantity) -> How {
        let person = self.routine().map(|routine| routine.judge.as_str()).unwrap_or_default();
        let [_, rows] = self.sight().upright.shown_size();
        self.clicking.how(person, quantity, rows)
    }

    /// Learns from a reading that was kept.
    pub(super) fn learn_clicks(&mut self, reading: &Reading) {
        let Some(sheaf) = self.session.sheaf() else { return };
        let Some(repeats) = Clicking::repeats(sheaf, reading) else { return };
        self.clicking.take(repeats.clone());
        change_clicks(|known| known.take(repeats));
    }

    /// Looks, beside the window's thread, what others placed on the same frames of the clip.
    pub(super) fn learn_together(&self) -> Task<Message> {
        let Some(sheaf) = self.session.sheaf().cloned() else { return Task::none() };
        let clip = self.viewer.stage().path().to_owned();
        let looking = tokio::task::spawn_blocking(move || {
            let others = marks_beside(&clip);
            let all: Vec<&Sheaf> =
                std::iter::once(&sheaf).chain(others.iter().map(|it| &it.1)).collect();
            Together::of(&all)
        });
        Task::perform(looking, |told| Message::ClicksCompared(told.unwrap_or_default()))
    }

    /// Takes in how far apart people clicked.
    pub(crate) fn clicks_compared(&mut self, told: Vec<Together>) -> Action {
        if !told.is_empty() {
            self.clicking.take_together(told.clone());
            change_clicks(|known| known.take_together(told));
        }
        Action::None
    }

    /// Forgets what is known of the person at work, also for what she is placing.
    pub(super) fn forget_clicks(&mut self) {
        let Some(person) = self.routine().map(|routine| routine.judge.clone()) else { return };
        self.clicking.forget(&person);
        change_clicks(move |known| known.forget(&person));
        let change = self.mode.placing().and_then(Placing::measuring).and_then(Measuring::as_usual);
        self.store(change);
    }
}
