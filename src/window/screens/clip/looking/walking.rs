//! The guide on the clip screen.

use iced::Element;

use super::walk::Walk;
use crate::window::screens::clip::{Action, Clip, Message};

impl Clip {
    /// Begins the guide, or goes on to its next step; behind the last one it ends.
    pub(crate) fn walk_on(&mut self) -> Action {
        if let Some(walk) = &mut self.walk {
            if !walk.go_on() {
                self.walk = None;
            }
            return Action::None;
        }
        let (Some(book), Some(routine)) = (self.session.book(), self.routine()) else {
            return self.open_header();
        };
        self.walk = Walk::begin(book, &routine.event, &routine.division);
        match self.walk {
            Some(_) => Action::None,
            None => self.complain("The book asks nothing of this event and division."),
        }
    }

    /// Draws the guide, where it is on.
    pub(crate) fn view_walk(&self) -> Option<Element<'_, Message>> {
        self.walk.as_ref()?.view()
    }
}
