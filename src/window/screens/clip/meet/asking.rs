//! What messages do.

use crate::{
    marks::{RealResult, Routine},
    window::screens::clip::{Action, Clip, Dialogue, Message},
};

use super::form::{MeetForm, MeetMessage};

impl Clip {
    /// Asks what the routine was given at the meet.
    pub(in crate::window::screens::clip) fn ask_what_was_given(&mut self) -> Action {
        self.viewer.stop();
        match self.routine() {
            Some(routine) => {
                self.dialogue = Dialogue::Meet(Box::new(MeetForm::of(&routine.result)));
                Action::None
            }
            None => self.complain("Say first what is judged (Ctrl R); then what it was given."),
        }
    }

    pub(in crate::window::screens::clip) fn meet(&mut self, message: MeetMessage) -> Action {
        let Dialogue::Meet(form) = &mut self.dialogue else { return Action::None };
        match message {
            MeetMessage::Pointed(field, typed) => {
                form.current = field;
                (form.complaint, form.is_kept) = (None, false);
                let wish = form.lines[field as usize].take(&typed);
                return Action::Run(wish.task(Message::Typed));
            }
            MeetMessage::Leave => self.dialogue = Dialogue::None,
            // Once it is kept the same key closes.
            MeetMessage::Save if form.is_kept => self.dialogue = Dialogue::None,
            MeetMessage::Save => match form.result() {
                Ok(result) => return self.keep_what_was_given(result),
                Err(why) => form.complaint = Some(why),
            },
        }
        Action::None
    }

    fn keep_what_was_given(&mut self, result: RealResult) -> Action {
        let Some(routine) = self.routine() else { return Action::None };
        let routine = Routine { result, ..routine.clone() };
        match self.session.change_routine(routine) {
            Ok(_) => {
                if let Dialogue::Meet(form) = &mut self.dialogue {
                    form.is_kept = true;
                }
                Action::None
            }
            Err(error) => {
                self.dialogue = Dialogue::None;
                self.complain_of(&error)
            }
        }
    }
}
