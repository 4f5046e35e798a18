//! The widget itself: events in, what happened out, and drawing on either renderer.

use std::{
    cell::{Cell, RefCell},
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
    /// The clip, or the span that is played once, has played to its end.
    PlayedOut {
        /// How many pictures were drawn meanwhile, each counted once.
        drawn: u64,
    },
    /// A click, or while points are placed anything else, happened at a place of the upright picture.
    Pointer(Pointer),
}

/// What the pointer does while points are placed; places are upright pixels of the picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pointer {
    /// It is here.
    At([f64; 2]),
    /// It was pressed and let go here.
    Clicked([f64; 2]),
    /// It holds the handle of this number, here.
    Held(usize, [f64; 2]),
    /// It let the handle go here.
    LetGo(usize, [f64; 2]),
}

impl Pointer {
    /// Returns where it is.
    pub const fn at(self) -> [f64; 2] {
        match self {
            Self::At(at) | Self::Clicked(at) | Self::Held(_, at) | Self::LetGo(_, at) => at,
        }
    }
}

/// How near to a handle, in logical pixels, a press takes hold of it.
const HANDLE_REACH: f64 = 9.0;
/// How far a press may move and still be a click.
const CLICK_SLACK: f32 = 3.0;

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
    handles: Option<Vec<[f64; 2]>>,
    surface: Surface,
    tell: Box<dyn Fn(Told) -> M + 'a>,
}

impl<'a, M> FrameView<'a, M> {
    /// Shows the newest picture of `stage`.
    pub fn new(stage: &'a Stage, tell: impl Fn(Told) -> M + 'a) -> Self {
        Self {
            stage,
            turn: None,
            viewport: Viewport::FIT,
            playback: None,
            handles: None,
            surface: Surface::Main,
            tell: Box::new(tell),
        }
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

    /// Tells where the pointer is and what it holds, where handles are given: what it may take hold of, in upright
    /// pixels of the picture.
    #[must_use]
    pub fn handles(mut self, handles: Option<Vec<[f64; 2]>>) -> Self {
        self.handles = handles;
        self
    }

    /// Shows the picture of a second clip on the same screen.
    #[must_use]
    pub const fn beside(mut self) -> Self {
        self.surface = Surface::Beside;
        self
    }

    /// Shows the picture small over another one and leaves the mouse to that.
    #[must_use]
    pub const fn inset(mut self) -> Self {
        self.surface = Surface::Inset;
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
        let is_last = || due == last && seconds >= self.stage.seconds_of(last);
        let is_over = playback.is_over(now).unwrap_or_else(|| is_last() && !playback.is_loop());
        if is_over {
            if playback.is_over(now).is_none() {
                self.stage.want(due);
            }
            let drawn = state.drawn.take().filter(|drawn| drawn.of == playback);
            shell.publish((self.tell)(Told::PlayedOut { drawn: drawn.map_or(0, |it| it.count) }));
            return;
        }
        self.stage.want(due);
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

    /// Returns what the pointer tells while points are placed.
    fn point(
        &self,
        event: &mouse::Event,
        state: &mut State,
        at: Point,
        room: Room,
    ) -> Option<Pointer> {
        // Without handles nothing is being placed as far as this view knows; but the key that
        // begins it may have come just before the click, so clicks are told all the same.
        let handles = self.handles.as_deref().unwrap_or_default();
        let placement = self.viewport.placement(room);
        let here = placement.to_picture([at.x.into(), at.y.into()]);
        match event {
            mouse::Event::ButtonPressed(mouse::Button::Left) => {
                let [x, y] = [f64::from(at.x), f64::from(at.y)];
                let far = |handle: &[f64; 2]| {
                    let [hx, hy] = placement.to_room(*handle);
                    (hx - x).hypot(hy - y)
                };
                let near = handles.iter().enumerate().map(|(i, handle)| (i, far(handle)));
                let near = near.min_by(|a, b| a.1.total_cmp(&b.1));
                let handle = near.filter(|near| near.1 <= HANDLE_REACH).map(|near| near.0);
                state.press = Some(Press { at, handle, moved: false });
                None
            }
            mouse::Event::CursorMoved { .. } => {
                let here_only = self.handles.as_ref().map(|_| Pointer::At(here));
                let Some(press) = &mut state.press else { return here_only };
                press.moved |= press.at.distance(at) > CLICK_SLACK;
                match press.handle.filter(|_| press.moved) {
                    Some(handle) => Some(Pointer::Held(handle, here)),
                    None => here_only,
                }
            }
            mouse::Event::ButtonReleased(mouse::Button::Left) => {
                let press = state.press.take()?;
                match (press.moved, press.handle) {
                    (false, _) => Some(Pointer::Clicked(here)),
                    (true, Some(handle)) => Some(Pointer::LetGo(handle, here)),
                    (true, None) => None,
                }
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
    press: Option<Press>,
    software: RefCell<Option<Rendered>>,
    /// What was drawn of what is playing.
    drawn: Cell<Option<Counted>>,
}

/// Pictures drawn while something plays.
#[derive(Clone, Copy, Debug)]
struct Counted {
    of: Playback,
    last: usize,
    count: u64,
}

impl State {
    /// Counts a picture that is drawn, unless it is the one that was drawn before.
    fn count(&self, of: Playback, frame: usize) {
        let before = self.drawn.get().filter(|drawn| drawn.of == of);
        let count = match before {
            Some(before) if before.last == frame => before.count,
            before => before.map_or(0, |before| before.count) + 1,
        };
        self.drawn.set(Some(Counted { of, last: frame, count }));
    }
}

/// The button held down.
#[derive(Clone, Copy, Debug)]
struct Press {
    at: Point,
    handle: Option<usize>,
    moved: bool,
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
            tree.state.downcast_ref::<State>().count(playback, picture.frame);
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

/// One picture and how it is to be shown.
#[derive(Clone)]
pub struct Showing {
    /// The picture.
    pub picture: Arc<Picture>,
    /// How it is turned, where a person turned it otherwise than its file says.
    pub turn: Option<Orientation>,
    /// Zoom and pan.
    pub viewport: Viewport,
    /// Which surface it is drawn on.
    pub surface: Surface,
}

/// The surfaces on the graphics card; every widget on screen has one of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Surface {
    /// The clip itself.
    Main,
    /// The magnified inset.
    Inset,
    /// A second clip.
    Beside,
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
