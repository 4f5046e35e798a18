//! The widget itself: events in, what happened out, and drawing on either renderer.

use std::{
    cell::RefCell,
    sync::Arc,
    time::{Duration, Instant},
};

use iced::{
    Element, Event, Length, Point, Rectangle, Renderer, Size, Theme,
    advanced::{
        Clipboard, Shell, Widget,
        layout::{self, Layout},
        renderer,
        widget::tree::{self, Tree},
    },
    mouse,
    widget::shader,
    window::{Event as WindowEvent, RedrawRequest},
};

use super::{
    pipeline::Drawn,
    software::{self, Rendered},
    viewport::{Room, Scale, Viewport},
};
use crate::{
    footage::Picture,
    units::Orientation,
    window::{playback::Playback, stage::Stage},
};

/// What the widget tells the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Told {
    /// How much room the picture has, in logical pixels.
    Room([f64; 2]),
    /// The picture was zoomed or moved with the mouse.
    Viewport(Viewport),
    /// The clip has played on to this frame.
    PlayedTo(u64),
    /// The clip has played to its end.
    PlayedOut,
}

/// How often a playing clip tells how far it is.
const TELL_EVERY: Duration = Duration::from_millis(100);
/// How soon the widget looks again while a due picture is still being decoded.
const LOOK_AGAIN: Duration = Duration::from_millis(4);

/// The picture on the screen.
pub struct FrameView<'a, M> {
    stage: &'a Stage,
    turn: Option<Orientation>,
    viewport: Viewport,
    playback: Option<Playback>,
    tell: Box<dyn Fn(Told) -> M + 'a>,
}

impl<'a, M> FrameView<'a, M> {
    /// Shows the newest picture of `stage`.
    pub fn new(stage: &'a Stage, tell: impl Fn(Told) -> M + 'a) -> Self {
        Self { stage, turn: None, viewport: Viewport::FIT, playback: None, tell: Box::new(tell) }
    }

    /// Sets zoom and pan.
    #[must_use]
    pub const fn viewport(mut self, viewport: Viewport) -> Self {
        self.viewport = viewport;
        self
    }

    /// Turns the picture otherwise than its file says, where something is given.
    #[must_use]
    pub const fn turned(mut self, turn: Option<Orientation>) -> Self {
        self.turn = turn;
        self
    }

    /// Plays, where something is given.
    #[must_use]
    pub const fn playback(mut self, playback: Option<Playback>) -> Self {
        self.playback = playback;
        self
    }

    fn room(&self, bounds: Rectangle) -> Room {
        Room {
            picture: self.stage.upright(self.turn).shown_size().map(f64::from),
            room: [f64::from(bounds.width), f64::from(bounds.height)],
        }
    }

    /// Asks for the picture that is due at `now` and comes back when the next one is.
    fn play(&self, playback: Playback, now: Instant, state: &mut State, shell: &mut Shell<'_, M>) {
        let seconds = playback.seconds_at(now);
        let due = self.stage.frame_at(seconds);
        let last = self.stage.last_frame();
        self.stage.want(due);
        if due == last && seconds >= self.stage.seconds_of(last) && !playback.is_loop() {
            shell.publish((self.tell)(Told::PlayedOut));
            return;
        }
        let waited = state.told_at.is_none_or(|told| now.duration_since(told) >= TELL_EVERY);
        if waited && state.told != Some(due) {
            state.told_at = Some(now);
            state.told = Some(due);
            shell.publish((self.tell)(Told::PlayedTo(due)));
        }
        let shown = self.stage.latest().map(|picture| picture.frame as u64);
        let next = playback.due(self.stage.seconds_of(due + 1), now);
        let again = if shown == Some(due) { next } else { next.min(now + LOOK_AGAIN) };
        shell.request_redraw_at(RedrawRequest::At(again));
    }

    fn mouse(
        &self,
        event: &mouse::Event,
        state: &mut State,
        at: Option<Point>,
        bounds: Rectangle,
    ) -> Option<Viewport> {
        let room = self.room(bounds);
        match event {
            mouse::Event::WheelScrolled { delta } => {
                let steps = match delta {
                    mouse::ScrollDelta::Lines { y, .. } => f64::from(*y),
                    mouse::ScrollDelta::Pixels { y, .. } => f64::from(*y) / 40.0,
                };
                let at = at?;
                Some(self.viewport.zoomed(steps, Some([at.x.into(), at.y.into()]), room))
            }
            mouse::Event::ButtonPressed(mouse::Button::Left) => {
                state.drag = Some(at?);
                None
            }
            mouse::Event::ButtonReleased(mouse::Button::Left) => {
                state.drag = None;
                None
            }
            mouse::Event::CursorMoved { position } => {
                let now = Point::new(position.x - bounds.x, position.y - bounds.y);
                let before = state.drag.replace(now).filter(|_| state.drag.is_some());
                self.drag(state, before, now, room)
            }
            _ => None,
        }
    }

    fn drag(
        &self,
        state: &mut State,
        before: Option<Point>,
        now: Point,
        room: Room,
    ) -> Option<Viewport> {
        let Some(before) = before else {
            state.drag = None;
            return None;
        };
        if self.viewport.scale() == Scale::Fit {
            return None;
        }
        let by = now - before;
        Some(self.viewport.panned([by.x.into(), by.y.into()], room))
    }
}

/// What the widget remembers between events.
#[derive(Default)]
pub struct State {
    room: Option<Size>,
    told_at: Option<Instant>,
    told: Option<u64>,
    drag: Option<Point>,
    software: RefCell<Option<Rendered>>,
}

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
                let before = self.viewport;
                if let Some(viewport) =
                    self.mouse(event, state, at, bounds).filter(|after| *after != before)
                {
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
        let showing = Showing { picture, turn: self.turn, viewport: self.viewport };
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

/// One picture and how it is to be shown.
#[derive(Clone)]
pub struct Showing {
    /// The picture.
    pub picture: Arc<Picture>,
    /// How it is turned, where a person turned it otherwise than its file says.
    pub turn: Option<Orientation>,
    /// Zoom and pan.
    pub viewport: Viewport,
}

impl<M> shader::Program<M> for Showing {
    type State = State;
    type Primitive = Drawn;

    fn draw(&self, _: &State, _: mouse::Cursor, _: Rectangle) -> Drawn {
        Drawn {
            surface: MAIN_SURFACE,
            picture: Arc::clone(&self.picture),
            turn: self.turn,
            viewport: self.viewport,
        }
    }
}

/// The one surface that there is as long as one clip is shown at a time.
const MAIN_SURFACE: u64 = 0;
