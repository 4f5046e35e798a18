//! Marks that were made on another copy of the clip: they move here, as one step.

use crate::{
    marks::{self, Edit, OtherCopy, Step},
    units::Ticks,
    window::{
        paper::Key,
        screens::clip::{Action, Clip},
    },
};

impl Clip {
    /// Moves the marks to this clip, in which pictures come later by `offset` ticks of its own.
    pub(crate) fn move_marks(&mut self, offset: Ticks) -> Action {
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let frame_at = |instant: Ticks| self.viewer.stage().nearest(instant);
        let copy =
            OtherCopy { facts: self.viewer.stage().clip_facts(), offset, frame_at: &frame_at };
        let after = match marks::move_to(sheaf, &copy) {
            Ok(after) => Box::new(after),
            Err(error) => {
                self.say_again(&error.to_string());
                return Action::None;
            }
        };
        let before = Box::new(sheaf.clone());
        match self.session.take(Step::Do(Edit::Copy { before, after })) {
            Ok(_) => self.close_complaint(),
            Err(error) => self.complain_of(&error),
        }
    }

    /// Moves the marks so that the chosen line comes to the frame on screen.
    pub(crate) fn move_chosen_here(&mut self) -> Action {
        let here = self.viewer.stage().ticks_of(self.viewer.frame_seen());
        let Some(then) = self.chosen_instant() else {
            self.say_again("Choose a line of the paper first, then go to the frame it is on.");
            return Action::None;
        };
        self.move_marks(Ticks(here.0.saturating_sub(then.0)))
    }

    /// Returns when the chosen line lies, in ticks of this clip.
    fn chosen_instant(&self) -> Option<Ticks> {
        let Key::Item(id) = self.chosen? else { return None };
        let sheaf = self.session.sheaf()?;
        let then = sheaf.item(id)?.at().frame()?.ticks;
        let seconds = sheaf.clip.as_ref()?.time_base.seconds(then);
        Some(self.viewer.stage().time_base().ticks_at(seconds))
    }

    /// Says what did not work and keeps what is offered.
    fn say_again(&mut self, text: &str) {
        if let Some(complaint) = &mut self.complaint {
            complaint.say(text);
        }
    }
}
