//! Turning a wrongly tagged picture, and playing a stretch over and over.

use crate::{
    marks::{Edit, Step},
    units::Orientation,
    window::screens::clip::{Action, Clip},
};

impl Clip {
    /// Returns how a person turned the picture otherwise than its file says.
    pub(crate) fn turn(&self) -> Option<Orientation> {
        if self.session.is_open() { self.session.turn() } else { self.turned }
    }

    /// Turns or mirrors the picture; it can be undone as soon as there are marks.
    pub(crate) fn turn_picture(&mut self, turn: impl Fn(Orientation) -> Orientation) -> Action {
        let before = self.turn();
        let own = self.viewer.stage().upright(None).orientation;
        let now = turn(before.unwrap_or(own));
        let after = (now != own).then_some(now);
        if self.session.is_open() {
            let edit = self.session.sheaf().and_then(|sheaf| Edit::orient(sheaf, after));
            return edit.map_or(Action::None, |edit| self.take(Step::Do(edit), self.chosen));
        }
        self.turned = after;
        Action::None
    }

    /// Plays from the mark at or before the frame on screen to the next one, over and over; once
    /// more stops.
    pub(crate) fn toggle_loop(&mut self) -> Action {
        if self.viewer.is_looping() {
            return self.step(0);
        }
        let frame = self.viewer.stop();
        let marked = self.session.marked_frames();
        let from = marked.iter().rev().find(|at| **at <= frame);
        let to = marked.iter().find(|at| **at > frame);
        let (Some(&from), Some(&to)) = (from, to) else {
            return self.complain(
                "Stand between two marks: the stretch from one to the other is played over and \
                 over.",
            );
        };
        self.viewer.play_over_and_over([from, to.stepped(1)]);
        Action::None
    }
}
