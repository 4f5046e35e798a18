//! A button that is large enough to be hit, is reached by Tab and shows it.

use iced::{
    Element, Event, Length, Padding, Rectangle, Renderer, Size, Theme, Vector,
    advanced::{
        Clipboard, Renderer as _, Shell, Widget,
        layout::{self, Layout},
        overlay,
        renderer::{self, Quad},
        widget::{
            Operation,
            operation::Focusable,
            tree::{self, Tree},
        },
    },
    border, keyboard, mouse,
    widget::button::{Status, Style},
};

use crate::window::theme::{self, part};

/// A button while it is made.
pub(crate) struct Button<'a, M> {
    button: iced::widget::Button<'a, M>,
    pressed: Option<M>,
}

/// Returns a button that shows something.
pub(crate) fn button<'a, M>(content: impl Into<Element<'a, M>>) -> Button<'a, M> {
    Button { button: iced::widget::button(content), pressed: None }
}

impl<'a, M: Clone + 'a> Button<'a, M> {
    pub(crate) fn padding(self, padding: impl Into<Padding>) -> Self {
        Self { button: self.button.padding(padding), ..self }
    }

    pub(crate) fn width(self, width: impl Into<Length>) -> Self {
        Self { button: self.button.width(width), ..self }
    }

    pub(crate) fn height(self, height: impl Into<Length>) -> Self {
        Self { button: self.button.height(height), ..self }
    }

    pub(crate) fn style(self, style: impl Fn(&Theme, Status) -> Style + 'a) -> Self {
        Self { button: self.button.style(style), ..self }
    }

    /// Cuts off what has no room in it.
    pub(crate) fn clip(self, clip: bool) -> Self {
        Self { button: self.button.clip(clip), ..self }
    }

    pub(crate) fn on_press(self, pressed: M) -> Self {
        self.on_press_maybe(Some(pressed))
    }

    /// Sets what a press tells; it is off where that is nothing.
    pub(crate) fn on_press_maybe(self, pressed: Option<M>) -> Self {
        Self { button: self.button.on_press_maybe(pressed.clone()), pressed }
    }
}

impl<'a, M: Clone + 'a> From<Button<'a, M>> for Element<'a, M> {
    fn from(Button { button, pressed }: Button<'a, M>) -> Self {
        Element::new(Target { content: button.into(), pressed })
    }
}

struct Target<'a, M> {
    content: Element<'a, M>,
    pressed: Option<M>,
}

/// Whether the next press of Enter is for it.
#[derive(Default)]
struct Focus(bool);

impl Focusable for Focus {
    fn is_focused(&self) -> bool {
        self.0
    }

    fn focus(&mut self) {
        self.0 = true;
    }

    fn unfocus(&mut self) {
        self.0 = false;
    }
}

impl<M: Clone> Widget<M, Theme, Renderer> for Target<'_, M> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<Focus>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(Focus::default())
    }

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
        let size = node.size();
        let missing = (part::TARGET.min(limits.max().height) - size.height).max(0.0);
        if self.pressed.is_none() || missing == 0.0 {
            return layout::Node::with_children(size, vec![node]);
        }
        // What it shows stays in its middle.
        let size = Size::new(size.width, size.height + missing);
        let shown = node.children().iter().cloned();
        let shown = shown.map(|node| node.translate(Vector::new(0.0, missing / 2.0))).collect();
        layout::Node::with_children(size, vec![layout::Node::with_children(size, shown)])
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        renderer: &Renderer,
        operation: &mut dyn Operation,
    ) {
        if self.pressed.is_some() {
            operation.focusable(None, layout.bounds(), tree.state.downcast_mut::<Focus>());
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
        let focus = tree.state.downcast_mut::<Focus>();
        if matches!(event, Event::Mouse(mouse::Event::ButtonPressed(_))) && focus.0 {
            focus.0 = false;
            shell.request_redraw();
        }
        if focus.0 && presses(event) {
            if let Some(pressed) = self.pressed.clone() {
                shell.publish(pressed);
            }
            shell.capture_event();
            return;
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
        let (Some(inner), Some(within)) = (tree.children.first(), layout.children().next()) else {
            return;
        };
        self.content.as_widget().draw(inner, renderer, theme, style, within, cursor, viewport);
        if tree.state.downcast_ref::<Focus>().0 {
            // A light line within a dark one is seen on every ground.
            renderer.with_layer(*viewport, |renderer| {
                for (within, color) in [0.0, FOCUS].into_iter().zip(theme::FOCUS) {
                    let border = border::rounded(part::ROUND).width(FOCUS).color(color);
                    let bounds = layout.bounds().shrink(within);
                    renderer.fill_quad(
                        Quad { bounds, border, ..Quad::default() },
                        iced::Color::TRANSPARENT,
                    );
                }
            });
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

/// Width of each of the two lines around what has the focus, in logical pixels.
const FOCUS: f32 = 2.0;

/// Returns whether it is the press of a key that presses what has the focus.
fn presses(event: &Event) -> bool {
    use keyboard::{Event::KeyPressed, Key, key::Named};
    matches!(
        event,
        Event::Keyboard(KeyPressed {
            key: Key::Named(Named::Enter | Named::Space),
            repeat: false,
            ..
        })
    )
}
