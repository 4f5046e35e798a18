//! Tab goes through everything that can be pressed, from top to bottom.
//!
//! Which field is written in is the screens' own affair, and so is Tab as long as it leads to a
//! further field; behind the last one it goes to the buttons, and behind the last of those back.

use iced::{
    Element, Length, Rectangle, Task, Vector,
    advanced::widget::{
        Id, Operation, operate,
        operation::{Focusable, Outcome, Scrollable, scrollable::AbsoluteOffset},
    },
    keyboard::{self, Key, key::Named},
    widget::container,
};

/// What Tab does on a screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tab {
    /// It goes through fields, where there are any, and then through buttons.
    Everything,
    /// It means something else just now.
    Taken,
}

/// Tells the walk where a field is and whether it is written in.
pub(crate) struct FieldAt {
    pub is_current: bool,
}

/// Id of what lies over a screen.
const FENCE: &str = "fence";

/// Returns what lies over a screen: while it is there, Tab goes through it alone.
pub(crate) fn fence<'a, M: 'a>(content: impl Into<Element<'a, M>>) -> Element<'a, M> {
    container(content).id(Id::new(FENCE)).width(Length::Fill).height(Length::Fill).into()
}

/// Returns whether it is the id of what lies over a screen.
pub(crate) fn is_fence(id: Option<&Id>) -> bool {
    id.is_some_and(|id| *id == Id::new(FENCE))
}

/// Returns whether the key is Tab, and whether it goes back.
pub(crate) fn tab(event: &keyboard::Event) -> Option<bool> {
    match event {
        keyboard::Event::KeyPressed { key: Key::Named(Named::Tab), modifiers, .. }
            if !modifiers.command() && !modifiers.alt() =>
        {
            Some(modifiers.shift())
        }
        _ => None,
    }
}

/// Moves the focus to the next button, or to the one before; tells whether there is one, or whether
/// the screen itself knows where to go.
pub(crate) fn walk(is_back: bool) -> Task<bool> {
    operate(Reachable { is_back, ..Reachable::default() })
}

/// What can be reached, in the order in which it is laid out.
#[derive(Default)]
struct Reachable {
    is_back: bool,
    /// Whether each field is written in.
    fields: Vec<bool>,
    /// Whether each button has the focus.
    buttons: Vec<bool>,
    /// How many buttons lie behind the fence.
    fenced: usize,
}

impl Operation<bool> for Reachable {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<bool>)) {
        operate(self);
    }

    fn container(&mut self, id: Option<&Id>, _: Rectangle) {
        if is_fence(id) {
            self.fenced = self.buttons.len();
            self.fields.clear();
        }
    }

    fn focusable(&mut self, _: Option<&Id>, _: Rectangle, state: &mut dyn Focusable) {
        self.buttons.push(state.is_focused());
    }

    fn custom(&mut self, _: Option<&Id>, _: Rectangle, state: &mut dyn std::any::Any) {
        if let Some(field) = state.downcast_ref::<FieldAt>() {
            self.fields.push(field.is_current);
        }
    }

    fn finish(&self) -> Outcome<bool> {
        Outcome::Chain(Box::new(Give::to(self.next())))
    }
}

impl Reachable {
    /// Returns the button to go to, or nothing where the screen itself knows where to go; then none
    /// has the focus.
    fn next(&self) -> Option<usize> {
        let is_back = self.is_back;
        let reach = self.fenced..self.buttons.len();
        let here = self.buttons.iter().position(|has| *has).filter(|here| reach.contains(here));
        let [first, last] = [Some(reach.start), reach.end.checked_sub(1)];
        let end = if is_back { last } else { first };
        let next = match (here, is_back) {
            (Some(here), false) => Some(here + 1),
            (Some(here), true) => here.checked_sub(1),
            (None, _) => {
                let current = self.fields.iter().position(|is_current| *is_current);
                let outer = if is_back { 0 } else { self.fields.len().saturating_sub(1) };
                if current.is_some_and(|current| current != outer) {
                    return None;
                }
                end
            }
        };
        // Behind the last one it goes back to the fields, or round where there is none.
        let goes_round = self.fields.is_empty().then_some(end).flatten();
        let is_there = |place: &usize| reach.contains(place);
        next.filter(is_there).or(goes_round).filter(is_there)
    }
}

/// Gives one button the focus, takes it from all others, and scrolls it into sight.
struct Give {
    wanted: Option<usize>,
    buttons: usize,
    /// The scroller around what is looked at, by its number.
    within: Option<usize>,
    scrollers: usize,
    entering: Option<usize>,
    /// Where the wanted one lies, and in which scroller.
    found: Option<(Rectangle, Option<usize>)>,
}

impl Give {
    fn to(wanted: Option<usize>) -> Self {
        let (buttons, scrollers) = (0, 0);
        Self { wanted, buttons, within: None, scrollers, entering: None, found: None }
    }
}

impl Operation<bool> for Give {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<bool>)) {
        let outer = self.within;
        self.within = self.entering.take().or(outer);
        operate(self);
        self.within = outer;
    }

    fn scrollable(
        &mut self,
        _: Option<&Id>,
        _: Rectangle,
        _: Rectangle,
        _: Vector,
        _: &mut dyn Scrollable,
    ) {
        self.entering = Some(self.scrollers);
        self.scrollers += 1;
    }

    fn focusable(&mut self, _: Option<&Id>, bounds: Rectangle, state: &mut dyn Focusable) {
        if self.wanted == Some(self.buttons) {
            state.focus();
            self.found = Some((bounds, self.within));
        } else if state.is_focused() {
            state.unfocus();
        }
        self.buttons += 1;
    }

    fn finish(&self) -> Outcome<bool> {
        match self.found {
            Some((part, Some(scroller))) => {
                Outcome::Chain(Box::new(Show { part, scroller, passed: 0 }))
            }
            found => Outcome::Some(found.is_some()),
        }
    }
}

/// Moves one scroller so that a part of what is in it is in sight.
struct Show {
    part: Rectangle,
    scroller: usize,
    passed: usize,
}

impl Operation<bool> for Show {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation<bool>)) {
        operate(self);
    }

    fn scrollable(
        &mut self,
        _: Option<&Id>,
        bounds: Rectangle,
        _: Rectangle,
        moved: Vector,
        state: &mut dyn Scrollable,
    ) {
        if self.passed == self.scroller {
            let top = self.part.y - bounds.y;
            let bottom = top + self.part.height;
            let in_sight = top >= moved.y && bottom <= moved.y + bounds.height;
            if !in_sight {
                let y = Some((top - bounds.height / 3.0).max(0.0));
                state.scroll_to(AbsoluteOffset { x: None, y });
            }
        }
        self.passed += 1;
    }

    fn finish(&self) -> Outcome<bool> {
        Outcome::Some(true)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where Tab leads to, and where it leads with Shift.
    fn next(fields: &[bool], buttons: &[bool], fenced: usize) -> [Option<usize>; 2] {
        [false, true].map(|is_back| {
            let (fields, buttons) = (fields.to_vec(), buttons.to_vec());
            Reachable { is_back, fields, buttons, fenced }.next()
        })
    }

    #[test]
    fn fields_come_first_then_buttons_and_then_it_goes_round() {
        let two = [false, false];
        assert_eq!(next(&[true, false], &two, 0), [None, Some(1)], "at the first field");
        assert_eq!(next(&[false, true], &two, 0), [Some(0), None], "at the last field");
        assert_eq!(next(&[false, true], &[false, true], 0), [None, Some(0)], "at the last button");
        assert_eq!(next(&[], &[false, true], 0), [Some(0), Some(0)], "without fields");
        assert_eq!(next(&[], &[true, false], 0), [Some(1), Some(1)]);
    }

    #[test]
    fn what_lies_behind_a_dialogue_is_not_reached() {
        assert_eq!(next(&[], &[true, false, false], 1), [Some(1), Some(2)]);
        assert_eq!(next(&[], &[false, true, false], 1), [Some(2), Some(2)]);
        assert_eq!(next(&[], &[], 0), [None, None]);
    }
}
