//! What messages do.

use crate::window::screens::{
    clip::{Action, Clip, Dialogue, Message, Wanted},
    place::{self, Wish},
    record::RecordForm,
    underway::Underway,
};

use super::state::{End, Errand, ErrandMessage, Stage};

impl Clip {
    fn errand_mut(&mut self) -> Option<&mut Errand> {
        match &mut self.dialogue {
            Dialogue::Cut(form) => Some(&mut form.errand),
            Dialogue::HandOver(form) => Some(&mut form.errand),
            _ => None,
        }
    }

    pub(in crate::window::screens::clip) fn errand(&mut self, message: ErrandMessage) -> Action {
        let Some(errand) = self.errand_mut() else { return Action::None };
        match message {
            ErrandMessage::Purpose(purpose) => {
                errand.purpose = purpose;
                // It was refused for another one.
                errand.complain(None);
            }
            ErrandMessage::Ask if errand.is_asked() => {
                return match self.dialogue {
                    Dialogue::Cut(_) => self.ask_where_cut_goes(),
                    _ => self.ask_where_handed_goes(),
                };
            }
            ErrandMessage::Chosen(number, Some(out)) if number == errand.number => {
                return match self.dialogue {
                    Dialogue::Cut(_) => self.cut_out(out),
                    _ => self.hand_over(out),
                };
            }
            ErrandMessage::Over(number, end) if number == errand.number => errand.take(end),
            ErrandMessage::Ask | ErrandMessage::Chosen(..) | ErrandMessage::Over(..) => {}
            ErrandMessage::ShowRecord => return self.show_record_over_errand(),
            ErrandMessage::Record(message) => {
                let task = errand.noted(message);
                return task.map_or(Action::None, |task| {
                    Action::Run(task.map(|it| Message::Errand(ErrandMessage::Record(it))))
                });
            }
            ErrandMessage::Open => {
                if let Stage::Made(made) = &errand.stage {
                    return Action::Open(Wanted::of(made.path.clone(), None));
                }
            }
            ErrandMessage::Leave => self.leave_errand(),
        }
        Action::None
    }

    /// Asks where the file goes.
    pub(in crate::window::screens::clip) fn ask_where_to(&mut self, wish: &Wish<'_>) -> Action {
        let Some(number) = self.errand_mut().map(|errand| errand.number) else {
            return Action::None;
        };
        let chosen = move |out| Message::Errand(ErrandMessage::Chosen(number, out));
        Action::Run(place::ask_where(wish, chosen))
    }

    /// Makes the file on a thread of its own.
    pub(in crate::window::screens::clip) fn make(
        &mut self,
        work: impl FnOnce(&Underway) -> End + Send + 'static,
    ) -> Action {
        let underway =
            Underway::new("Looking at what is noted of the clip …", self.arrived.clone());
        let Some(errand) = self.errand_mut() else { return Action::None };
        let number = errand.number;
        let over = move |end: Result<End, String>| {
            let end = end.unwrap_or_else(End::Failed);
            Message::Errand(ErrandMessage::Over(number, end))
        };
        let run = underway.run(work, over);
        errand.stage = Stage::Underway(underway);
        Action::Run(run)
    }

    fn show_record_over_errand(&mut self) -> Action {
        let athlete = self.routine().map(|routine| routine.athlete.clone()).unwrap_or_default();
        let (form, read) = RecordForm::open(self.path().to_owned(), &athlete);
        if let Some(errand) = self.errand_mut() {
            errand.record = Some(form);
        }
        Action::Run(read.map(|message| Message::Errand(ErrandMessage::Record(message))))
    }

    /// Stops what is under way, and else closes the form.
    pub(in crate::window::screens::clip) fn leave_errand(&mut self) {
        match self.errand_mut().map(|errand| &errand.stage) {
            Some(Stage::Underway(underway)) => underway.stop(),
            Some(_) => self.dialogue = Dialogue::None,
            None => {}
        }
    }
}
