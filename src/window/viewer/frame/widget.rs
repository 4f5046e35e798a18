//! The widget itself: events in, what happened out, and drawing on either renderer.

use std::{
    cell::{Cell, RefCell},
    sync::Arc,
    time::Instant,
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
    window::Event as WindowEvent,
};

use crate::{
    footage::Picture,
    units::Orientation,
    window::viewer::{
        playback::{Clock, Playback},
        stage::Stage,
        viewport::{Room, Scale, Viewport},
    },
};

use super::{
    pipeline::Drawn,
    playing::Counted,
    pointer::{Pointer, Press},
    software::{self, Rendered},
    touch::Fingers,
};

/// What the widget tells the window.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Told {
    /// How much room the picture has, in logical pixels.
    Room([f64; 2]),
    /// The picture was zoomed or moved with the mouse.
    Viewport(Viewport),
    /// The clip has played on.
    PlayedTo {
        /// The frame that is due.
        frame: u64,
        /// How many pictures came too late and were left out since it began to play.
        dropped: u64,
    },
    /// The clip, or the span that is played once, has played to its end.
    PlayedOut {
        /// How many pictures were drawn meanwhile, each counted once.
        drawn: u64,
    },
    /// A click, or while points are placed anything else, happened at a place of the upright picture.
    Pointer(Pointer),
}

/// The picture on the screen.
pub struct FrameView<'a, M> {
    pub(crate) stage: &'a Stage,
    turn: Option<Orientation>,
    pub(crate) viewport: Viewport,
    playback: Option<Playback>,
    pub(crate) handles: Option<Vec<[f64; 2]>>,
    surface: Surface,
    pub(crate) tell: Box<dyn Fn(Told) -> M + 'a>,
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
    pub(crate) const fn playback(mut self, playback: Option<Playback>) -> Self {
        self.playback = playback;
        self
    }

    /// Tells where the pointer is and what it holds, where handles are given: what it may take hold of, in upright
    /// pixels of the picture.
    #[must_use]
    pub(crate) fn handles(mut self, handles: Option<Vec<[f64; 2]>>) -> Self {
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
    pub(crate) const fn inset(mut self) -> Self {
        self.surface = Surface::Inset;
        self
    }

    pub(crate) fn room(&self, bounds: Rectangle) -> Room {
        Room {
            picture: self.stage.upright(self.turn).shown_size().map(f64::from),
            room: [f64::from(bounds.width), f64::from(bounds.height)],
        }
    }
}

/// What the widget remembers between events.
#[derive(Default)]
pub(crate) struct State {
    room: Option<Size>,
    pub(crate) told_at: Option<Instant>,
    pub(crate) told: Option<u64>,
    pub(crate) drag: Option<Point>,
    pub(crate) press: Option<Press>,
    fingers: Fingers,
    software: RefCell<Option<Rendered>>,
    /// What was drawn of what is playing.
    pub(crate) drawn: Cell<Option<Counted>>,
    pub(crate) clock: Option<Clock>,
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
pub(crate) struct Showing {
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
pub(crate) enum Surface {
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
