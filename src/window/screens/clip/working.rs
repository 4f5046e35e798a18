//! What the clip screen does beside the window's thread, and what waits for it.

use iced::Task;

use super::{
    message::{Action, Message},
    mode::Dialogue,
    routine::header,
    screen::Clip,
};
use crate::window::viewer::frame::Told;

impl Clip {
    /// Does something slow beside the window's thread and goes on with what came of it.
    pub(super) fn beside<T: Send + 'static>(
        &mut self,
        work: impl FnOnce() -> T + Send + 'static,
        rest: impl FnOnce(&mut Self, T) -> Action + Send + 'static,
    ) -> Action {
        let rest = |clip: &mut Self, worked: Result<T, String>| match worked {
            Ok(worked) => rest(clip, worked),
            // It was cut short by the end of the program, or by a fault of ours.
            Err(error) => clip.complain(&error),
        };
        self.jobs.begin(work, rest, Message::Done);
        Action::None
    }

    /// Goes on with what came of a job.
    pub(super) fn done(&mut self, number: u64) -> Action {
        let rest = self.jobs.finish(number);
        let action = rest.map_or(Action::None, |rest| rest(self));
        if !self.jobs.is_busy() {
            self.put_what_is_seen();
        }
        action
    }

    /// Returns the next message that waited for a job, once that is done.
    pub(crate) fn next_held(&mut self) -> Option<Message> {
        self.jobs.next_held()
    }

    /// Returns what was begun beside the window's thread since it was asked last.
    pub(crate) fn started(&mut self) -> Task<Message> {
        self.jobs.started()
    }

    /// Returns whether a message waits for the job that is under way: what a person does, for it
    /// was meant to come after.
    pub(super) fn waits(&self, message: &Message) -> bool {
        if !self.jobs.is_busy() {
            return false;
        }
        match message {
            Message::Frame(Told::Pointer(_)) => true,
            Message::Arrived
            | Message::Frame(_)
            | Message::PaperMoved(_)
            | Message::ClipChanged(_)
            | Message::SaveDue
            | Message::Saved(_)
            | Message::Done(_) => false,
            other => !(self.jobs.is_filling_form() && self.writes_in_form(other)),
        }
    }

    /// Returns whether a message only writes in the form, which needs no books.
    fn writes_in_form(&self, message: &Message) -> bool {
        if !matches!(self.dialogue, Dialogue::Header(_)) {
            return false;
        }
        match message {
            Message::Typed(_) => true,
            Message::Header(message) => message.needs_no_book(),
            Message::KeyPressed(event) => {
                header::message_for(event).is_some_and(|message| message.needs_no_book())
            }
            _ => false,
        }
    }
}
