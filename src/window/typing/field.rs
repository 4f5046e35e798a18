//! Draws a field, tells where it was pointed at and asks for the input method.

use iced::{
    Element, Event, Length, Padding, Pixels, Point, Rectangle, Renderer, Size, Theme,
    advanced::{
        Clipboard, Renderer as _, Shell, Widget,
        input_method::{InputMethod, Purpose},
        layout::{self, Layout},
        renderer::{self, Quad},
        text::{self, Paragraph as _, Renderer as _, paragraph::Plain},
        widget::{
            Operation,
            tree::{self, Tree},
        },
    },
    alignment, mouse,
    widget::text_input::Value,
    window,
};

use super::{
    line::Line,
    typed::{Reach, Selecting, Typed},
};
use crate::{
    units::steers,
    window::{
        controls::FieldAt,
        theme::{self, Current, size, space},
    },
};

type Paragraph = <Renderer as text::Renderer>::Paragraph;

/// Returns a field that shows `line`; `pointed` tells where it was pressed or dragged to.
pub(crate) fn field<'a, M: 'a>(
    line: &'a Line,
    placeholder: &'a str,
    current: Current,
    pointed: impl Fn(Typed) -> M + 'a,
) -> Element<'a, M> {
    Element::new(Field { line, placeholder, current, pointed: Box::new(pointed) })
}

struct Field<'a, M> {
    line: &'a Line,
    placeholder: &'a str,
    current: Current,
    pointed: Box<dyn Fn(Typed) -> M + 'a>,
}

/// What the field remembers between events.
#[derive(Default)]
struct State {
    text: Plain<Paragraph>,
    placeholder: Plain<Paragraph>,
    held: bool,
}

const CARET: f32 = 1.5;
const PADDING: Padding = Padding::new(space::SMALL);

impl<M> Field<'_, M> {
    /// What is drawn: what would turn the text round is a sign of its own, so that the cursor stands
    /// where it seems to.
    fn shown(&self) -> String {
        let shown = self.line.shown().0;
        shown.chars().map(|letter| if steers(letter) { '\u{fffd}' } else { letter }).collect()
    }

    /// How far the text is moved to the left so that the cursor is in sight, and where the cursor
    /// then lies from the left edge of the text's room.
    fn offset(&self, state: &State, width: f32) -> (f32, f32) {
        if self.current == Current::No {
            return (0.0, 0.0);
        }
        let at = x_of(state, self.line.shown().1);
        let offset = (at + CARET - width).max(0.0);
        (offset, at - offset)
    }

    fn place_under(&self, state: &State, bounds: Rectangle, at: Point) -> usize {
        let (offset, _) = self.offset(state, bounds.width);
        let point = Point::new((at.x - bounds.x + offset).max(0.0), bounds.height / 2.0);
        let text = self.line.text();
        let hit = state.text.raw().hit_test(point).map_or(text.len(), text::Hit::cursor);
        Value::new(text.get(..hit.min(text.len())).unwrap_or(text)).len()
    }

    fn mouse(
        &self,
        event: &mouse::Event,
        state: &mut State,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<Typed> {
        let inside = bounds.expand(space::SMALL);
        match event {
            mouse::Event::ButtonPressed(mouse::Button::Left) => {
                let at = cursor.position_in(inside).and(cursor.position())?;
                state.held = true;
                let to = Reach::Place(self.place_under(state, bounds, at));
                Some(Typed::Move { to, select: Selecting::No })
            }
            mouse::Event::ButtonReleased(mouse::Button::Left) => {
                state.held = false;
                None
            }
            mouse::Event::CursorMoved { .. } if state.held => {
                let to = Reach::Place(self.place_under(state, bounds, cursor.position()?));
                Some(Typed::Move { to, select: Selecting::Yes })
            }
            _ => None,
        }
    }
}

/// Returns how far from the beginning of the text a letter begins.
fn x_of(state: &State, place: usize) -> f32 {
    state.text.raw().grapheme_position(0, place).map_or(0.0, |point| point.x)
}

impl<M> Widget<M, Theme, Renderer> for Field<'_, M> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::default())
    }

    fn size(&self) -> Size<Length> {
        Size::new(Length::Fill, Length::Shrink)
    }

    fn layout(&mut self, tree: &mut Tree, _: &Renderer, limits: &layout::Limits) -> layout::Node {
        let state = tree.state.downcast_mut::<State>();
        let line_height = text::LineHeight::default();
        let height = line_height.to_absolute(Pixels(size::BODY)).0;
        let limits = limits.width(Length::Fill).shrink(PADDING);
        let room = limits.resolve(Length::Fill, Length::Fixed(height), Size::ZERO);
        let plain = text::Text {
            content: self.placeholder,
            bounds: Size::new(f32::INFINITY, height),
            size: Pixels(size::BODY),
            line_height,
            font: theme::FONT,
            align_x: text::Alignment::Default,
            align_y: alignment::Vertical::Center,
            shaping: text::Shaping::Advanced,
            wrapping: text::Wrapping::None,
        };
        state.placeholder.update(plain);
        state.text.update(text::Text { content: &self.shown(), ..plain });
        let inner = layout::Node::new(room).move_to(Point::new(PADDING.left, PADDING.top));
        layout::Node::with_children(room.expand(PADDING), vec![inner])
    }

    fn operate(
        &mut self,
        _: &mut Tree,
        layout: Layout<'_>,
        _: &Renderer,
        operation: &mut dyn Operation,
    ) {
        let shown = self.shown();
        let text = if shown.is_empty() { self.placeholder } else { &shown };
        operation.text(None, layout.bounds(), text);
        let is_current = self.current == Current::Yes;
        operation.custom(None, layout.bounds(), &mut FieldAt { is_current });
    }

    fn update(
        &mut self,
        tree: &mut Tree,
        event: &Event,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _: &Renderer,
        _: &mut dyn Clipboard,
        shell: &mut Shell<'_, M>,
        _: &Rectangle,
    ) {
        let state = tree.state.downcast_mut::<State>();
        let Some(bounds) = layout.children().next().map(|inner| inner.bounds()) else { return };
        match event {
            Event::Window(window::Event::RedrawRequested(_)) if self.current == Current::Yes => {
                let (_, x) = self.offset(state, bounds.width);
                let corner = Point::new(bounds.x + x, bounds.y);
                let cursor = Rectangle::new(corner, Size::new(CARET, bounds.height));
                shell.request_input_method::<&str>(&InputMethod::Enabled {
                    cursor,
                    purpose: Purpose::Normal,
                    preedit: None,
                });
            }
            Event::Mouse(event) => {
                if let Some(typed) = self.mouse(event, state, bounds, cursor) {
                    shell.publish((self.pointed)(typed));
                    shell.capture_event();
                }
            }
            _ => {}
        }
    }

    fn mouse_interaction(
        &self,
        _: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _: &Rectangle,
        _: &Renderer,
    ) -> mouse::Interaction {
        if cursor.is_over(layout.bounds()) {
            mouse::Interaction::Text
        } else {
            mouse::Interaction::None
        }
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut Renderer,
        theme: &Theme,
        _: &renderer::Style,
        layout: Layout<'_>,
        _: mouse::Cursor,
        screen: &Rectangle,
    ) {
        let state = tree.state.downcast_ref::<State>();
        let style = theme::own_field(self.current)(theme);
        let quad = Quad { bounds: layout.bounds(), border: style.border, ..Quad::default() };
        renderer.fill_quad(quad, style.background.unwrap_or(iced::Color::TRANSPARENT.into()));
        let Some(bounds) = layout.children().next().map(|inner| inner.bounds()) else { return };
        let Some(visible) = bounds.expand(CARET).intersection(screen) else { return };
        renderer.with_layer(visible, |renderer| self.draw_text(state, renderer, theme, bounds));
    }
}

impl<M> Field<'_, M> {
    fn draw_text(&self, state: &State, renderer: &mut Renderer, theme: &Theme, room: Rectangle) {
        let colours = theme::colours(theme);
        let (offset, caret) = self.offset(state, room.width);
        let bar = |from: f32, width: f32| Quad {
            bounds: Rectangle { x: room.x + from, width, ..room },
            ..Quad::default()
        };
        let (from, to) = self.line.selection();
        if self.current == Current::Yes && from < to {
            let (from, to) = (x_of(state, from) - offset, x_of(state, to) - offset);
            renderer.fill_quad(bar(from, to - from), colours.paper_chosen);
        }
        let (text, ink) = if self.line.shown().0.is_empty() {
            (state.placeholder.raw(), colours.ink_quiet)
        } else {
            (state.text.raw(), colours.ink)
        };
        let at = Point::new(room.x - offset, room.y);
        renderer.fill_paragraph(text, at, ink, room);
        if self.current == Current::Yes {
            renderer.fill_quad(bar(caret, CARET), colours.ink_accent);
        }
    }
}
