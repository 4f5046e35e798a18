//! Going to where the movement turns.

use crate::window::{
    keymap::Heading,
    screens::clip::{Action, Clip},
    viewer::turning::{Turned, Turning},
};

impl Clip {
    /// Looks for the next turn, or for one more while that is looked for.
    pub(crate) fn look_for_turn(&mut self, heading: Heading) -> Action {
        let from = self.viewer.stop();
        if !self.turning.as_mut().is_some_and(|turning| turning.and_one(heading)) {
            self.turning = Some(Turning::begin(from, heading));
        }
        self.look_on()
    }

    /// Looks on, as far as pictures are there, and goes where the movement turns.
    pub(crate) fn look_on(&mut self) -> Action {
        let Some(turning) = &mut self.turning else { return Action::None };
        match turning.look(self.viewer.stage()) {
            Turned::NotYet => Action::None,
            Turned::At(frame) => self.go_to(frame),
            Turned::Nowhere => {
                self.turning = None;
                self.complain("The movement does not turn within the next ten seconds.")
            }
        }
    }
}
