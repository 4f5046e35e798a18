//! What is noted of the clip, as a form over it.

use crate::window::screens::record::{RecordAction, RecordForm, RecordMessage};

use super::{
    message::{Action, Message},
    mode::Dialogue,
    screen::Clip,
};

impl Clip {
    /// Shows what is noted of the clip; whoever is judged on it is offered.
    pub(crate) fn show_record(&mut self) -> Action {
        self.viewer.stop();
        let athlete = self.routine().map(|routine| routine.athlete.clone()).unwrap_or_default();
        let (form, read) = RecordForm::open(self.path().to_owned(), &athlete);
        self.dialogue = Dialogue::Record(Box::new(form));
        Action::Run(read.map(Message::Record))
    }

    pub(crate) fn noted(&mut self, message: RecordMessage) -> Action {
        let Dialogue::Record(form) = &mut self.dialogue else { return Action::None };
        match form.update(message) {
            RecordAction::None => Action::None,
            RecordAction::Run(task) => Action::Run(task.map(Message::Record)),
            RecordAction::Leave | RecordAction::Done => {
                self.dialogue = Dialogue::None;
                Action::None
            }
        }
    }
}
