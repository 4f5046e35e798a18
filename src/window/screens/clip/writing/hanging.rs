//! Hanging what was seen under another element than the one that time gives it.
//!
//! Time alone orders the routine: a line pinned to a frame stands where its frame is. What can be
//! chosen is the element that a fault, a swing or a fall belongs to, among those begun by then.

use crate::{
    marks::{Edit, Id, Item, Mark, Step, What},
    window::{
        paper::Key,
        screens::clip::{Action, Clip},
    },
};

const IN_ORDER: &str =
    "Elements stand in the order of time. M moves the chosen line to the frame on screen.";
const ASKED_OF_IT: &str = "An angle or a call belongs to the element that it was asked of.";
const LATER: &str = "That element begins after this was seen.";
const NONE_THERE: &str = "There is no element to attach it to.";

impl Clip {
    /// Hangs one line under the element of another one, onto which it was dragged.
    pub(crate) fn drag(&mut self, line: Key, onto: Key) -> Action {
        let under = match onto {
            Key::Item(id) => self.session.element_of(id),
            Key::Waiting(id, _) => Some(id),
            Key::Sheet(..) => None,
        };
        self.hang(line, under)
    }

    /// Hangs the chosen line under the element so many places on.
    pub(crate) fn hang_further(&mut self, by: i8) -> Action {
        self.viewer.stop();
        let Some(line @ Key::Item(id)) = self.chosen else { return Action::None };
        let Some(sheaf) = self.session.sheaf() else { return Action::None };
        let is_element = |it: &&Mark| matches!(it.what, What::Element { .. });
        let elements: Vec<Id> =
            sheaf.in_order().into_iter().filter(is_element).map(|it| it.id).collect();
        let here = self.session.element_of(id);
        let here = here.and_then(|here| elements.iter().position(|it| *it == here));
        let there = match here {
            Some(here) => here.checked_add_signed(by.into()),
            None => (by > 0).then_some(0),
        };
        self.hang(line, there.and_then(|there| elements.get(there)).copied())
    }

    fn hang(&mut self, line: Key, under: Option<Id>) -> Action {
        match self.hanging(line, under) {
            Ok(Some(edit)) => self.take(Step::Do(edit), Some(line)),
            Ok(None) => Action::None,
            Err(why) => self.complain(why),
        }
    }

    /// Returns the change, where there is anything to change.
    fn hanging(&self, line: Key, under: Option<Id>) -> Result<Option<Edit>, &'static str> {
        let (Key::Item(id), Some(sheaf)) = (line, self.session.sheaf()) else {
            return Err(ASKED_OF_IT);
        };
        let Some(Item::Mark(mut mark)) = sheaf.item(id) else { return Err(ASKED_OF_IT) };
        if matches!(mark.what, What::Element { .. }) {
            return Err(IN_ORDER);
        }
        let under = under.and_then(|id| sheaf.mark(id)).ok_or(NONE_THERE)?;
        if under.at.order() > mark.at.order() {
            return Err(LATER);
        }
        let by_time = self.session.element_at(&mark.at);
        let of = Some(under.id).filter(|_| by_time != Some(under.id));
        if mark.of == of {
            return Ok(None);
        }
        mark.of = of;
        Ok(Some(Edit::change(sheaf, Item::Mark(mark))))
    }
}
