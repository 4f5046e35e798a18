//! Tab goes through everything that can be pressed, from top to bottom.
//!
//! Which field is written in is the screens' own affair, and so is Tab as long as it leads to a
//! further field; behind the last one it goes to the buttons, and behind the last of those back.

use iced::{
    Element, Event, Length, Rectangle, Renderer, Size, Theme, Vector,
    advanced::{
        Clipboard, Shell, Widget,
        layout::{self, Layout},
        overlay, renderer,
        widget::{
            Id, Operation, Tree,
            operation::{Focusable, Scrollable, scrollable::AbsoluteOffset},
        },
    },
    keyboard::{self, Key, key::Named},
    mouse,
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

/// Tells the walk that nothing before it can be reached.
pub(crate) struct Fence;

/// Returns what lies over a screen: while it is there, Tab goes through it alone.
pub(crate) fn fence<'a, M: 'a>(content: impl Into<Element<'a, M>>) -> Element<'a, M> {
    Element::new(Around { content: content.into(), role: Role::Fence })
}

/// Returns a whole screen through which Tab goes.
pub(crate) fn tabbed<'a, M: 'a>(content: impl Into<Element<'a, M>>, tab: Tab) -> Element<'a, M> {
    Element::new(Around { content: content.into(), role: Role::Screen(tab) })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Role {
    Fence,
    Screen(Tab),
}

/// What is laid out, drawn and used as if nothing were around it.
struct Around<'a, M> {
    content: Element<'a, M>,
    role: Role,
}

/// What can be reached, in the order in which it is laid out.
#[derive(Default)]
struct Reachable {
    /// Whether each field is written in.
    fields: Vec<bool>,
    /// Whether each button has the focus.
    buttons: Vec<bool>,
    /// How many buttons lie behind the fence.
    fenced: usize,
}

impl Operation for Reachable {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
        operate(self);
    }

    fn focusable(&mut self, _: Option<&Id>, _: Rectangle, state: &mut dyn Focusable) {
        self.buttons.push(state.is_focused());
    }

    fn custom(&mut self, _: Option<&Id>, _: Rectangle, state: &mut dyn std::any::Any) {
        if state.is::<Fence>() {
            self.fenced = self.buttons.len();
            self.fields.clear();
        } else if let Some(field) = state.downcast_ref::<FieldAt>() {
            self.fields.push(field.is_current);
        }
    }
}

impl Reachable {
    /// Returns the button to go to, or nothing where the screen itself knows where to go; then none
    /// has the focus.
    fn next(&self, is_back: bool) -> Option<usize> {
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

impl Operation for Give {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
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
}

/// Moves one scroller so that a part of what is in it is in sight.
struct Show {
    part: Rectangle,
    scroller: usize,
    passed: usize,
}

impl Operation for Show {
    fn traverse(&mut self, operate: &mut dyn FnMut(&mut dyn Operation)) {
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
}

/// Returns whether it is Tab, and whether it goes back.
fn tab(event: &Event) -> Option<bool> {
    match event {
        Event::Keyboard(keyboard::Event::KeyPressed {
            key: Key::Named(Named::Tab),
            modifiers,
            ..
        }) if !modifiers.command() && !modifiers.alt() => Some(modifiers.shift()),
        _ => None,
    }
}

impl<M> Around<'_, M> {
    /// Moves the focus, and returns whether Tab has done its work.
    fn walk(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        renderer: &Renderer,
        is_back: bool,
    ) -> bool {
        let mut reachable = Reachable::default();
        self.operate(tree, layout, renderer, &mut reachable);
        let next = reachable.next(is_back);
        let mut give = Give::to(next);
        self.operate(tree, layout, renderer, &mut give);
        if let Some((part, Some(scroller))) = give.found {
            self.operate(tree, layout, renderer, &mut Show { part, scroller, passed: 0 });
        }
        next.is_some()
    }
}

impl<M> Widget<M, Theme, Renderer> for Around<'_, M> {
    fn children(&self) -> Vec<Tree> {
        vec![Tree::new(&self.content)]
    }

    fn diff(&self, tree: &mut Tree) {
        tree.diff_children(std::slice::from_ref(&self.content));
    }

    fn size(&self) -> Size<Length> {
        self.content.as_widget().size()
    }

    fn size_hint(&self) -> Size<Length> {
        self.content.as_widget().size_hint()
    }

    fn layout(
        &mut self,
        tree: &mut Tree,
        renderer: &Renderer,
        limits: &layout::Limits,
    ) -> layout::Node {
        let [inner] = &mut tree.children[..] else { return layout::Node::default() };
        let node = self.content.as_widget_mut().layout(inner, renderer, limits);
        layout::Node::with_children(node.size(), vec![node])
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        renderer: &Renderer,
        operation: &mut dyn Operation,
    ) {
        if self.role == Role::Fence {
            operation.custom(None, layout.bounds(), &mut Fence);
        }
        let (Some(inner), Some(layout)) = (tree.children.first_mut(), layout.children().next())
        else {
            return;
        };
        self.content.as_widget_mut().operate(inner, layout, renderer, operation);
    }

    fn update(
        &mut self,
        tree: &mut Tree,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        renderer: &Renderer,
        clipboard: &mut dyn Clipboard,
        shell: &mut Shell<'_, M>,
        viewport: &Rectangle,
    ) {
        if self.role == Role::Screen(Tab::Everything)
            && let Some(is_back) = tab(event)
        {
            shell.request_redraw();
            if self.walk(tree, layout, renderer, is_back) {
                shell.capture_event();
                return;
            }
        }
        let (Some(inner), Some(layout)) = (tree.children.first_mut(), layout.children().next())
        else {
            return;
        };
        let content = self.content.as_widget_mut();
        content.update(inner, event, layout, cursor, renderer, clipboard, shell, viewport);
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut Renderer,
        theme: &Theme,
        style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
    ) {
        if let Some((inner, layout)) = tree.children.first().zip(layout.children().next()) {
            self.content.as_widget().draw(inner, renderer, theme, style, layout, cursor, viewport);
        }
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        let within = tree.children.first().zip(layout.children().next());
        within.map_or(mouse::Interaction::None, |(inner, layout)| {
            let content = self.content.as_widget();
            content.mouse_interaction(inner, layout, cursor, viewport, renderer)
        })
    }

    fn overlay<'b>(
        &'b mut self,
        tree: &'b mut Tree,
        layout: Layout<'b>,
        renderer: &Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'b, M, Theme, Renderer>> {
        let (inner, layout) = tree.children.first_mut().zip(layout.children().next())?;
        self.content.as_widget_mut().overlay(inner, layout, renderer, viewport, translation)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn reachable(fields: &[bool], buttons: &[bool], fenced: usize) -> Reachable {
        Reachable { fields: fields.to_vec(), buttons: buttons.to_vec(), fenced }
    }

    #[test]
    fn fields_come_first_then_buttons_and_then_it_goes_round() {
        let at_first = reachable(&[true, false], &[false, false], 0);
        assert_eq!([at_first.next(false), at_first.next(true)], [None, Some(1)]);
        let at_last = reachable(&[false, true], &[false, false], 0);
        assert_eq!([at_last.next(false), at_last.next(true)], [Some(0), None]);
        let on_last_button = reachable(&[false, true], &[false, true], 0);
        assert_eq!([on_last_button.next(false), on_last_button.next(true)], [None, Some(0)]);
        let without = reachable(&[], &[false, true], 0);
        assert_eq!([without.next(false), without.next(true)], [Some(0), Some(0)]);
        assert_eq!(reachable(&[], &[true, false], 0).next(true), Some(1));
    }

    #[test]
    fn what_lies_behind_a_dialogue_is_not_reached() {
        let none = reachable(&[], &[true, false, false], 1);
        assert_eq!([none.next(false), none.next(true)], [Some(1), Some(2)]);
        assert_eq!(reachable(&[], &[false, true, false], 1).next(true), Some(2));
        assert_eq!(reachable(&[], &[], 0).next(false), None);
    }
}
