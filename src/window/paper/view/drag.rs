//! Dragging a line of the routine onto another one.

use iced::{
    Border, Color, Element, Event, Length, Point, Rectangle, Renderer, Size, Theme, Vector,
    advanced::{
        Clipboard, Layout, Renderer as _, Shell, Widget, layout, overlay, renderer,
        widget::{
            Operation,
            tree::{self, Tree},
        },
    },
    mouse,
};

use crate::window::{
    paper::lines::Key,
    theme::{self, part},
};

/// How far a press moves before it drags; less is a shaky hand.
const SLACK: f32 = 5.0;

/// Returns a column whose lines can be dragged onto one another; the first `above` of what it
/// holds are no lines.
pub(super) fn draggable<'a, M: 'a>(
    column: impl Into<Element<'a, M>>,
    above: usize,
    keys: Vec<Key>,
    dropped: impl Fn(Key, Key) -> M + 'a,
) -> Element<'a, M> {
    Element::new(Drag { content: column.into(), above, keys, dropped: Box::new(dropped) })
}

struct Drag<'a, M> {
    content: Element<'a, M>,
    above: usize,
    keys: Vec<Key>,
    dropped: Box<dyn Fn(Key, Key) -> M + 'a>,
}

/// The line that is held, where it was taken hold of, and the one that it is over.
#[derive(Clone, Copy)]
struct Held {
    line: usize,
    from: Point,
    moved: bool,
    over: Option<usize>,
}

type State = Option<Held>;

impl<M> Drag<'_, M> {
    fn line_under(&self, layout: Layout<'_>, cursor: mouse::Cursor) -> Option<usize> {
        layout.children().skip(self.above).position(|line| cursor.is_over(line.bounds()))
    }

    fn follow(&self, state: &mut State, layout: Layout<'_>, cursor: mouse::Cursor, event: &Event) {
        match event {
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) => {
                let line = self.line_under(layout, cursor).zip(cursor.position());
                *state = line.map(|(line, from)| Held { line, from, moved: false, over: None });
            }
            Event::Mouse(mouse::Event::CursorMoved { .. }) => {
                let over = self.line_under(layout, cursor);
                if let (Some(held), Some(at)) = (state, cursor.position()) {
                    held.moved |= held.from.distance(at) > SLACK;
                    held.over = over.filter(|over| held.moved && *over != held.line);
                }
            }
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)) => *state = None,
            _ => {}
        }
    }
}

impl<M> Widget<M, Theme, Renderer> for Drag<'_, M> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::None)
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

    fn layout(
        &mut self,
        tree: &mut Tree,
        renderer: &Renderer,
        limits: &layout::Limits,
    ) -> layout::Node {
        self.content.as_widget_mut().layout(&mut tree.children[0], renderer, limits)
    }

    fn operate(
        &mut self,
        tree: &mut Tree,
        layout: Layout<'_>,
        renderer: &Renderer,
        operation: &mut dyn Operation,
    ) {
        self.content.as_widget_mut().operate(&mut tree.children[0], layout, renderer, operation);
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
        let state = tree.state.downcast_mut::<State>();
        let before = state.filter(|held| held.moved);
        let let_go = matches!(event, Event::Mouse(mouse::Event::ButtonReleased(_)));
        // What was dragged was not pressed.
        let cursor_for_lines =
            if before.is_some() && let_go { mouse::Cursor::Unavailable } else { cursor };
        self.follow(state, layout, cursor, event);
        if state.map(|held| held.over) != before.map(|held| held.over) {
            shell.request_redraw();
        }
        if let Some(Held { line, over: Some(over), .. }) = before.filter(|_| let_go)
            && let (Some(from), Some(onto)) = (self.keys.get(line), self.keys.get(over))
        {
            shell.publish((self.dropped)(*from, *onto));
        }
        self.content.as_widget_mut().update(
            &mut tree.children[0],
            event,
            layout,
            cursor_for_lines,
            renderer,
            clipboard,
            shell,
            viewport,
        );
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        viewport: &Rectangle,
        renderer: &Renderer,
    ) -> mouse::Interaction {
        if tree.state.downcast_ref::<State>().is_some_and(|held| held.moved) {
            return mouse::Interaction::Grabbing;
        }
        let content = self.content.as_widget();
        content.mouse_interaction(&tree.children[0], layout, cursor, viewport, renderer)
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
        let content = self.content.as_widget();
        content.draw(&tree.children[0], renderer, theme, style, layout, cursor, viewport);
        let over = tree.state.downcast_ref::<State>().and_then(|held| held.over);
        let line = over.and_then(|over| layout.children().nth(self.above + over));
        if let Some(line) = line {
            let border = Border {
                color: theme::colours(theme).ink_accent,
                width: 2.0,
                radius: part::ROUND.into(),
            };
            let quad = renderer::Quad { bounds: line.bounds(), border, ..Default::default() };
            renderer.fill_quad(quad, Color::TRANSPARENT);
        }
    }

    fn overlay<'b>(
        &'b mut self,
        tree: &'b mut Tree,
        layout: Layout<'b>,
        renderer: &Renderer,
        viewport: &Rectangle,
        translation: Vector,
    ) -> Option<overlay::Element<'b, M, Theme, Renderer>> {
        let content = self.content.as_widget_mut();
        content.overlay(&mut tree.children[0], layout, renderer, viewport, translation)
    }
}
