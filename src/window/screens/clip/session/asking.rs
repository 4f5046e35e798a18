//! What the marks and their sheet tell of an element, a frame, a place.

use crate::{
    marks::{At, Id, Item, LandingOn, Mark, Phase, Quantity, Sheaf, What},
    units::{FrameIndex, FrameRef},
    window::{placing::Rule, write::Asked},
};

use super::Session;

impl Session {
    /// Returns the frames that carry something, in order, each once.
    pub(crate) fn marked_frames(&self) -> Vec<FrameIndex> {
        let mut frames: Vec<FrameIndex> = self.places().map(|(_, at)| at.index).collect();
        frames.sort_unstable();
        frames.dedup();
        frames
    }

    /// Returns the first thing that is pinned to a frame; an element before what hangs under it.
    pub(crate) fn first_on(&self, frame: FrameIndex) -> Option<Id> {
        let marks = self.sheaf()?.marks.iter();
        let elements = marks.filter(|mark| matches!(mark.what, What::Element { .. }));
        let on = |mark: &&Mark| mark.at.frame().is_some_and(|at| at.index == frame);
        let element = elements.into_iter().find(on).map(|mark| mark.id);
        element.or_else(|| self.places().find(|(_, at)| at.index == frame).map(|(id, _)| id))
    }

    fn places(&self) -> impl Iterator<Item = (Id, FrameRef)> {
        let sheaf = self.sheaf();
        let marks = sheaf.into_iter().flat_map(|it| it.marks.iter().map(|m| (m.id, m.at)));
        let readings = sheaf.into_iter().flat_map(|it| it.readings.iter().map(|r| (r.id, r.at)));
        let calls = sheaf.into_iter().flat_map(|it| it.calls.iter().map(|c| (c.id, c.at)));
        marks.chain(readings).chain(calls).filter_map(|(id, at)| Some((id, *at.frame()?)))
    }

    /// Returns the element that something belongs to: itself, the one it hangs under, or the last
    /// one at or before its frame.
    pub(crate) fn element_of(&self, id: Id) -> Option<Id> {
        let sheaf = self.sheaf()?;
        let item = sheaf.item(id)?;
        match &item {
            Item::Mark(Mark { what: What::Element { .. }, .. }) => Some(id),
            _ => item.of().or_else(|| self.element_at(item.at())),
        }
    }

    /// Returns the last element at or before a place.
    pub(crate) fn element_at(&self, at: &At) -> Option<Id> {
        let marks = self.sheaf()?.in_order();
        let element = |mark: &&&Mark| matches!(mark.what, What::Element { .. });
        let before = |mark: &&&Mark| mark.at.order() <= at.order();
        marks.iter().rfind(|mark| element(mark) && before(mark)).map(|mark| mark.id)
    }

    /// Returns what rules ask of an element, what is still waiting first.
    pub(crate) fn asked_of(&self, element: Id) -> Vec<Asked> {
        let lines = self.sheet().into_iter().flat_map(|sheet| &sheet.elements);
        let decisions = lines.filter(|line| line.mark == element).flat_map(|line| &line.decisions);
        let mut asked: Vec<Asked> = decisions
            .map(|decision| Asked {
                rule: decision.rule.clone(),
                label: decision.label.clone(),
                quantity: decision.quantity,
                waiting: decision.status.is_none(),
            })
            .collect();
        asked.sort_by_key(|asked| !asked.waiting);
        asked
    }

    /// Returns the rules that ask an element for a quantity.
    pub(crate) fn rules_for(&self, element: Id, quantity: Quantity) -> Vec<Rule> {
        let (Some(book), Some(sheet)) = (self.book(), self.sheet()) else { return Vec::new() };
        sheet
            .asked_of(book, element, quantity)
            .map(|angle| Rule {
                label: angle.label.clone(),
                moment: angle.moment.clone(),
                limit: angle.limit(),
                asks: angle.asks(),
            })
            .collect()
    }

    /// Returns what an element is called.
    pub(crate) fn name_of(&self, element: Id) -> String {
        let line = self.sheet().and_then(|it| it.elements.iter().find(|it| it.mark == element));
        line.map_or_else(|| "the element".to_owned(), |line| line.label.clone())
    }

    /// Returns the phase that the exercise is in at a place: what the hands did last tells.
    pub(crate) fn phase_at(&self, at: &At) -> Phase {
        let marks = self.sheaf().map(Sheaf::in_order).unwrap_or_default();
        let mut before = marks.iter().rev().filter(|mark| mark.at.order() <= at.order());
        before
            .find_map(|mark| match mark.what {
                What::HandContact { .. } => Some(Phase::Support),
                What::HandRelease => Some(Phase::SecondFlight),
                What::Landing { on: LandingOn::Feet, .. } => Some(Phase::Landing),
                What::Element { .. } => Some(Phase::FirstFlight),
                _ => None,
            })
            .unwrap_or(Phase::FirstFlight)
    }
}
