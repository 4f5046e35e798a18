//! The widget itself: events in, what happened out, and drawing on either renderer.

use std::sync::Arc;

use iced::{
    Element, Event, Length, Rectangle, Renderer, Size, Theme,
    advanced::{
        Clipboard, Shell, Widget,
        layout::{self, Layout},
        renderer,
        widget::tree::{self, Tree},
    },
    mouse,
    widget::shader,
    window::Event as WindowEvent,
};

use crate::window::viewer::viewport::Scale;

use super::{
    pipeline::Drawn,
    showing::{Showing, Surface},
    software,
    state::State,
    told::Told,
    view::FrameView,
};

impl<M> Widget<M, Theme, Renderer> for FrameView<'_, M> {
    fn tag(&self) -> tree::Tag {
        tree::Tag::of::<State>()
    }

    fn state(&self) -> tree::State {
        tree::State::new(State::default())
    }

    fn size(&self) -> Size<Length> {
        Size::new(Length::Fill, Length::Fill)
    }

    fn layout(&mut self, _: &mut Tree, _: &Renderer, limits: &layout::Limits) -> layout::Node {
        layout::atomic(limits, Length::Fill, Length::Fill)
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
        let bounds = layout.bounds();
        if self.surface == Surface::Inset {
            return;
        }
        match event {
            Event::Window(WindowEvent::RedrawRequested(now)) => {
                if state.room != Some(bounds.size()) {
                    state.room = Some(bounds.size());
                    shell.publish((self.tell)(Told::Room(self.room(bounds).room)));
                }
                if let Some(playback) = self.playback {
                    self.play(playback, *now, state, shell);
                }
            }
            Event::Mouse(event) => {
                let at = cursor.position_in(bounds);
                if at.is_none() && matches!(event, mouse::Event::ButtonReleased(_)) {
                    state.press = None;
                }
                let told = at.and_then(|at| self.point(event, state, at, self.room(bounds)));
                if let Some(pointer) = told {
                    shell.publish((self.tell)(Told::Pointer(pointer)));
                }
                if state.press.is_some_and(|press| press.handle.is_some()) {
                    // The handle moves, not the picture.
                    shell.capture_event();
                    return;
                }
                let before = self.viewport;
                if let Some(viewport) =
                    self.mouse(event, state, at, bounds).filter(|after| *after != before)
                {
                    shell.publish((self.tell)(Told::Viewport(viewport)));
                    shell.capture_event();
                }
            }
            Event::Touch(event) => {
                let viewport = self.touched(*event, &mut state.fingers, bounds);
                if let Some(viewport) = viewport.filter(|after| *after != self.viewport) {
                    shell.publish((self.tell)(Told::Viewport(viewport)));
                    shell.capture_event();
                }
            }
            _ => {}
        }
    }

    fn mouse_interaction(
        &self,
        tree: &Tree,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        _: &Rectangle,
        _: &Renderer,
    ) -> mouse::Interaction {
        if self.surface == Surface::Inset {
            return mouse::Interaction::None;
        }
        if self.handles.is_some() && cursor.is_over(layout.bounds()) {
            return mouse::Interaction::Crosshair;
        }
        let zoomed = self.viewport.scale() != Scale::Fit;
        match (zoomed, tree.state.downcast_ref::<State>().drag) {
            (true, Some(_)) => mouse::Interaction::Grabbing,
            (true, None) if cursor.is_over(layout.bounds()) => mouse::Interaction::Grab,
            _ => mouse::Interaction::None,
        }
    }

    fn draw(
        &self,
        tree: &Tree,
        renderer: &mut Renderer,
        theme: &Theme,
        style: &renderer::Style,
        layout: Layout<'_>,
        cursor: mouse::Cursor,
        screen: &Rectangle,
    ) {
        let Some(picture) = self.stage.latest() else { return };
        if let Some(playback) = self.playback {
            let state = tree.state.downcast_ref::<State>();
            state.count(playback, self.begins(playback), picture.frame.into());
        }
        let showing =
            Showing { picture, turn: self.turn, viewport: self.viewport, surface: self.surface };
        match renderer {
            Renderer::Primary(_) => {
                let shader = shader::Shader::<M, _>::new(showing);
                shader.draw(tree, renderer, theme, style, layout, cursor, screen);
            }
            Renderer::Secondary(_) => {
                let state = tree.state.downcast_ref::<State>();
                let mut rendered = state.software.borrow_mut();
                software::draw(&showing, layout.bounds(), &mut rendered, renderer);
            }
        }
    }
}

impl<'a, M: 'a> From<FrameView<'a, M>> for Element<'a, M> {
    fn from(view: FrameView<'a, M>) -> Self {
        Self::new(view)
    }
}

impl<M> shader::Program<M> for Showing {
    type State = State;
    type Primitive = Drawn;

    fn draw(&self, _: &State, _: mouse::Cursor, _: Rectangle) -> Drawn {
        Drawn {
            surface: self.surface as u64,
            picture: Arc::clone(&self.picture),
            turn: self.turn,
            viewport: self.viewport,
        }
    }
}
