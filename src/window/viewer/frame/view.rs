//! The picture on the screen, as a screen asks for it.

use iced::Rectangle;

use crate::{
    units::Orientation,
    window::viewer::{
        playback::Playback,
        stage::Stage,
        viewport::{Room, Viewport},
    },
};

use super::{showing::Surface, told::Told};

/// The picture on the screen.
pub struct FrameView<'a, M> {
    pub(crate) stage: &'a Stage,
    pub(super) turn: Option<Orientation>,
    pub(crate) viewport: Viewport,
    pub(super) playback: Option<Playback>,
    pub(crate) handles: Option<Vec<[f64; 2]>>,
    pub(super) surface: Surface,
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
