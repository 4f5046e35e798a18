//! One of the two clips: where it is, and how it is looked at.

use std::{path::Path, time::Instant};

use crate::{
    units::Ticks,
    window::{
        paper::Key,
        screens::clip::Clip,
        viewer::{
            frame::Told,
            playback::{Playback, Speed},
            stage::Playing,
            viewport::{Room, Viewport},
        },
    },
};

use super::tie;

/// One of two clips.
pub(crate) struct Side {
    pub(crate) clip: Box<Clip>,
    /// The frame on screen, or wished for; the nearest one where it has none at this instant.
    pub(crate) frame: u64,
    /// Why there is none.
    pub(crate) none: Option<NoFrame>,
    pub(crate) viewport: Viewport,
    pub(crate) playback: Option<Playback>,
    /// The line of its paper that was pressed last.
    pub(crate) chosen: Option<Key>,
    /// What of its paper is in sight: how far down it begins, and its height.
    pub(crate) in_sight: [f32; 2],
    /// Room of the picture in logical pixels.
    room: [f64; 2],
}

/// Why a clip has no frame at an instant; distances in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum NoFrame {
    /// It begins so much later.
    BeginsIn(f64),
    /// It ended so much earlier.
    EndedSince(f64),
    /// It is not counted so far yet.
    NotCounted,
}

impl Side {
    /// Returns the side of a clip that stands where it was left.
    pub(crate) fn new(clip: Box<Clip>) -> Self {
        let frame = clip.frame();
        let (viewport, room) = (Viewport::FIT, [1.0, 1.0]);
        Self {
            clip,
            frame,
            none: None,
            viewport,
            playback: None,
            chosen: None,
            in_sight: [0.0, 400.0],
            room,
        }
    }

    /// Returns the instant of its frame.
    pub(crate) fn instant(&self) -> tie::Instant {
        self.at(self.clip.stage().ticks_of(self.frame))
    }

    /// Returns an instant of this clip.
    pub(crate) fn at(&self, ticks: Ticks) -> tie::Instant {
        tie::Instant { ticks, base: self.clip.stage().time_base() }
    }

    /// Goes to a frame, or to the last one.
    pub(crate) fn go_to(&mut self, frame: u64) {
        self.frame = frame.min(self.clip.stage().last_frame());
        self.none = None;
        self.clip.stage().want(self.frame);
    }

    /// Goes so many frames on. A clip that has no frame at this instant comes to its nearest one.
    pub(crate) fn step(&mut self, by: i64) {
        let from = if self.none.is_some() { 0 } else { by };
        self.go_to(self.frame.saturating_add_signed(from));
    }

    /// Goes to the frame nearest to an instant, and says where there is none.
    pub(crate) fn follow(&mut self, ticks: Ticks) {
        let stage = self.clip.stage();
        let base = stage.time_base();
        let Some(at) = stage.nearest(ticks) else {
            let end = stage.ticks_of(stage.last_frame() + 1);
            self.none = Some(if ticks < Ticks(0) {
                NoFrame::BeginsIn(-base.seconds(ticks))
            } else if stage.footage().is_counted() {
                NoFrame::EndedSince(base.seconds(Ticks(ticks.0 - end.0)))
            } else {
                NoFrame::NotCounted
            });
            self.frame = if ticks < Ticks(0) { 0 } else { stage.last_frame() };
            return;
        };
        self.go_to(at.index);
    }

    /// Goes to the next marked frame, or to the one before.
    pub(crate) fn go_to_mark(&mut self, forward: bool) {
        let marked = self.clip.session().marked_frames();
        let frame = if forward {
            marked.into_iter().find(|frame| *frame > self.frame)
        } else {
            marked.into_iter().rev().find(|frame| *frame < self.frame)
        };
        if let Some(frame) = frame {
            self.go_to(frame);
        }
    }

    /// Goes to the frame of a line of its paper.
    pub(crate) fn choose(&mut self, key: Key) {
        self.chosen = Some(key);
        let line = self.clip.session().paper().line(key);
        if let Some(frame) = line.and_then(|line| line.frame) {
            self.go_to(frame);
        }
    }

    /// Plays from an instant, which may lie before its first frame.
    pub(crate) fn play(&mut self, from: Ticks, speed: Speed, now: Instant) {
        let from = self.clip.stage().time_base().seconds(from);
        self.playback = Some(Playback::begin(now, from, speed).in_step());
        self.clip.stage().set_playing(Playing::Yes);
    }

    /// Stops playing, if it plays, on the frame on screen.
    pub(crate) fn stop(&mut self) {
        if self.playback.take().is_some() {
            self.clip.stage().set_playing(Playing::No);
            let shown = self.clip.stage().latest().map(|picture| picture.frame as u64);
            self.go_to(shown.unwrap_or(self.frame));
        }
    }

    /// Takes what the picture tells; returns whether it has played to its end.
    pub(crate) fn told(&mut self, told: Told) -> bool {
        match told {
            Told::Room(room) => self.room = room,
            Told::Viewport(viewport) => self.viewport = viewport,
            Told::PlayedTo { frame, .. } => (self.frame, self.none) = (frame, None),
            Told::PlayedOut { .. } => return true,
            Told::Pointer(_) => {}
        }
        false
    }

    /// Returns the room of the picture with its size.
    pub(crate) fn room(&self) -> Room {
        let upright = self.clip.stage().upright(self.clip.turned());
        Room { picture: upright.shown_size().map(f64::from), room: self.room }
    }

    /// Returns why its picture cannot be shown, where decoding failed.
    pub(crate) fn trouble(&self) -> Option<String> {
        self.clip.stage().trouble(self.frame)
    }

    /// Returns whether the picture that is meant to be on screen is there.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        let shown = self.clip.stage().latest().map(|picture| picture.frame as u64);
        self.none.is_some() || shown == Some(self.frame) || self.trouble().is_some()
    }
}

/// Returns a clip's name without its folder.
pub(super) fn name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}
