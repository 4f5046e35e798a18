//! One clip looked at: which frame is on screen, how the picture lies in its room, and how it plays.

use std::{sync::Arc, time::Instant};

use crate::{
    units::{FrameIndex, Orientation},
    window::keymap::View,
};

use super::{
    frame::{FrameView, Told},
    playback::{Playback, Speed},
    stage::{Playing, Stage},
    viewport::{Room, Viewport},
};

/// A clip that is looked at. Every screen that shows one has its own.
pub(crate) struct Viewer {
    stage: Arc<Stage>,
    /// The frame on screen, or wished for.
    frame: FrameIndex,
    viewport: Viewport,
    /// Room of the picture in logical pixels.
    room: [f64; 2],
    speed: Speed,
    playback: Option<Playback>,
    /// Pictures that came too late while it played.
    dropped: u64,
}

impl Viewer {
    /// Returns the viewer of an open clip, at its first frame.
    pub(crate) fn new(stage: impl Into<Arc<Stage>>) -> Self {
        Self {
            stage: stage.into(),
            frame: FrameIndex::FIRST,
            viewport: Viewport::FIT,
            room: [1.0, 1.0],
            speed: Speed::REAL,
            playback: None,
            dropped: 0,
        }
    }

    pub(crate) fn stage(&self) -> &Stage {
        &self.stage
    }

    /// Returns the frame on screen, or wished for.
    pub(crate) const fn frame(&self) -> FrameIndex {
        self.frame
    }

    pub(crate) const fn viewport(&self) -> Viewport {
        self.viewport
    }

    pub(crate) const fn speed(&self) -> Speed {
        self.speed
    }

    /// Returns how many pictures came too late since it began to play.
    pub(crate) const fn dropped(&self) -> u64 {
        self.dropped
    }

    pub(crate) const fn plays(&self) -> bool {
        self.playback.is_some()
    }

    /// Returns whether a stretch plays over and over.
    pub(crate) fn is_looping(&self) -> bool {
        self.playback.is_some_and(|playback| playback.is_loop())
    }

    /// Returns whether the picture of the frame that is wished for is on screen, or never will be.
    pub(crate) fn is_seen(&self) -> bool {
        self.stage.frame_shown() == Some(self.frame) || self.trouble().is_some()
    }

    /// Returns why the frame that is wished for cannot be shown, where decoding failed.
    pub(crate) fn trouble(&self) -> Option<String> {
        self.stage.trouble(self.frame)
    }

    /// Returns the frame whose picture is on screen: the number shown is the picture's own, also
    /// while the one wished for is still being decoded.
    pub(crate) fn frame_seen(&self) -> FrameIndex {
        let shown = self.stage.frame_shown().filter(|_| !self.plays());
        shown.unwrap_or(self.frame)
    }

    /// Returns whether what is on screen is proved to be its frame, or plays.
    pub(crate) fn is_sure(&self) -> bool {
        self.plays() || self.stage.is_proved(self.frame_seen())
    }

    /// Returns the size of the picture, turned as `turn` says, and of its room.
    pub(crate) fn room(&self, turn: Option<Orientation>) -> Room {
        Room { picture: self.stage.upright(turn).shown_size().map(f64::from), room: self.room }
    }

    /// Stops on a frame, or on the last one.
    pub(crate) fn go_to(&mut self, frame: FrameIndex) {
        if self.stop() != frame {
            self.dropped = 0;
        }
        self.frame = frame.min(self.stage.last_frame());
        self.stage.want(self.frame);
    }

    /// Stops on a frame that the hand points at, and may not mean yet.
    pub(crate) fn point_at(&mut self, frame: FrameIndex) {
        self.stop();
        self.frame = frame.min(self.stage.last_frame());
        self.stage.glance(self.frame);
    }

    /// Stops so many frames on.
    pub(crate) fn step(&mut self, by: i64) {
        let from = self.stop();
        self.go_to(from.stepped(by));
    }

    /// Plays on from the frame on screen, from the end once more from the beginning.
    pub(crate) fn play(&mut self) {
        let is_over = self.frame == self.stage.last_frame();
        let from = if is_over { FrameIndex::FIRST } else { self.frame };
        let seconds = self.stage.seconds_of(from);
        self.begin(Playback::begin(Instant::now(), seconds, self.speed));
    }

    /// Plays the stretch between two frames over and over.
    pub(crate) fn play_over_and_over(&mut self, stretch: [FrameIndex; 2]) {
        let stretch = stretch.map(|frame| self.stage.seconds_of(frame));
        self.begin(Playback::begin_loop(Instant::now(), stretch, self.speed));
    }

    /// Begins to play as it is told.
    pub(crate) fn begin(&mut self, playback: Playback) {
        self.playback = Some(playback);
        self.dropped = 0;
        self.stage.set_playing(Playing::Yes);
    }

    /// Stops playing, if it plays, and returns the frame on screen.
    pub(crate) fn stop(&mut self) -> FrameIndex {
        if let Some(playback) = self.playback.take() {
            self.stage.set_playing(Playing::No);
            // What the person saw is what the widget drew last, not what was due by the clock.
            let shown = self.stage.frame_shown();
            let due = self.stage.frame_at(playback.seconds_at(Instant::now()));
            self.frame = shown.unwrap_or(due).min(self.stage.last_frame());
        }
        self.frame
    }

    /// Ends on the last frame. How many pictures came too late is for reading then.
    pub(crate) fn play_out(&mut self) {
        let dropped = self.dropped;
        self.go_to(self.stage.last_frame());
        self.dropped = dropped;
    }

    /// Plays at another speed, from the picture on screen.
    pub(crate) fn set_speed(&mut self, speed: Speed) {
        self.speed = speed;
        let (now, shown) = (Instant::now(), self.stage.frame_shown());
        self.playback = self.playback.map(|playback| {
            let shown = shown.filter(|_| playback.waits());
            let shown = shown.map(|frame| self.stage.seconds_of(frame));
            playback.at_speed(speed, shown.unwrap_or_else(|| playback.seconds_at(now)), now)
        });
    }

    /// Zooms or moves the picture.
    pub(crate) fn look(&mut self, view: View, turn: Option<Orientation>) {
        self.viewport = self.viewport.looked(view, self.room(turn));
    }

    pub(crate) const fn set_viewport(&mut self, viewport: Viewport) {
        self.viewport = viewport;
    }

    /// Takes note of what the picture tells. What it means that the clip has played out, or that
    /// the pointer did something, is for the screen to say.
    pub(crate) const fn told(&mut self, told: Told) {
        match told {
            Told::Room(room) => self.room = room,
            Told::Viewport(viewport) => self.viewport = viewport,
            Told::PlayedTo { frame, dropped } => (self.frame, self.dropped) = (frame, dropped),
            Told::PlayedOut { dropped, .. } => self.dropped = dropped,
            Told::Pointer(_) => {}
        }
    }

    /// Returns the picture, as it lies and plays.
    pub(crate) fn picture<'a, M>(
        &'a self,
        turn: Option<Orientation>,
        tell: impl Fn(Told) -> M + 'a,
    ) -> FrameView<'a, M> {
        FrameView::new(&self.stage, tell)
            .turned(turn)
            .viewport(self.viewport)
            .playback(self.playback)
    }
}
