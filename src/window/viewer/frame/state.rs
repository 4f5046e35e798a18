//! What the widget remembers between events.

use std::{
    cell::{Cell, RefCell},
    time::Instant,
};

use iced::{Point, Size, touch};

use crate::{
    units::FrameIndex,
    window::viewer::playback::{Clock, Playback},
};

use super::software::Rendered;

/// What the widget remembers between events.
#[derive(Default)]
pub(crate) struct State {
    pub(super) room: Option<Size>,
    pub(crate) told_at: Option<Instant>,
    pub(crate) told: Option<FrameIndex>,
    pub(crate) drag: Option<Point>,
    pub(crate) press: Option<Press>,
    pub(super) fingers: Fingers,
    pub(super) software: RefCell<Option<Rendered>>,
    /// What was drawn of what is playing.
    pub(crate) drawn: Cell<Option<Counted>>,
    pub(crate) clock: Option<Clock>,
}

/// The button held down.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Press {
    pub(super) at: Point,
    pub(crate) handle: Option<usize>,
    pub(super) moved: bool,
}

/// The fingers that are down, in the order in which they came, with where they are.
pub(crate) type Fingers = Vec<(touch::Finger, Point)>;

/// Pictures drawn while something plays.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Counted {
    pub(super) of: Playback,
    pub(super) last: FrameIndex,
    pub(super) count: u64,
    pub(super) dropped: u64,
}

impl State {
    /// Counts a picture that is drawn, unless it is the one that was drawn before. The one with which it
    /// began was on screen already.
    pub(crate) fn count(&self, of: Playback, begins: FrameIndex, frame: FrameIndex) {
        let before = self.drawn.get().filter(|drawn| drawn.of == of);
        let counted = match before {
            Some(before) if before.last == frame => before,
            // Where a stretch begins again nothing is left out.
            Some(before) => Counted {
                last: frame,
                count: before.count + 1,
                dropped: before.dropped + frame.since(before.last.stepped(1)),
                ..before
            },
            None => Counted { of, last: frame, count: 1, dropped: frame.since(begins.stepped(1)) },
        };
        self.drawn.set(Some(counted));
    }
}
