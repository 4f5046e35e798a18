//! What is noted of the chosen clip, as a form over the wall.

use super::{
    message::{Action, Message},
    screen::Library,
};
use crate::window::screens::record::{RecordAction, RecordForm, RecordMessage};

impl Library {
    /// Shows what is noted of the chosen clip.
    pub(super) fn show_record(&mut self) -> Action {
        let tile = self.chosen.and_then(|place| self.tile(place));
        let there = tile.filter(|tile| !tile.hit.away);
        let Some((clip, athlete)) =
            there.and_then(|tile| Some((tile.hit.clip.clone()?, tile.hit.athlete.clone())))
        else {
            self.said = Some("Choose a clip that is there first.".to_owned());
            return Action::None;
        };
        let (form, read) = RecordForm::open(clip, &athlete);
        self.record = Some(form);
        Action::Run(read.map(Message::Record))
    }

    pub(super) fn noted(&mut self, message: RecordMessage) -> Action {
        let Some(form) = &mut self.record else { return Action::None };
        match form.update(message) {
            RecordAction::None => Action::None,
            RecordAction::Run(task) => Action::Run(task.map(Message::Record)),
            RecordAction::Leave => {
                self.record = None;
                Action::None
            }
            RecordAction::Done => {
                self.record = None;
                self.said = Some("Noted.".to_owned());
                if let Some(hand) = &mut self.handing {
                    hand.ask_anew();
                }
                // The tiles say what the record keeps from sets.
                Action::Run(self.search_again())
            }
        }
    }
}
