//! One of the two clips: where it is, and why it shows nothing.

use std::{path::Path, time::Instant};

use crate::{
    units::{FrameIndex, Ticks, tie},
    window::{
        screens::clip::{self, Clip},
        viewer::{frame::Told, playback::Playback, stage::Stage, viewport::Viewport},
    },
};

/// One of two clips.
pub(crate) struct Side {
    /// Where it has no frame at this instant, it stands at the nearest one.
    pub(crate) clip: Box<Clip>,
    /// Why it has none.
    pub(crate) none: Option<NoFrame>,
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
    /// Returns the side of a clip that stands where it was left, seen as a whole.
    pub(crate) fn new(mut clip: Box<Clip>) -> Self {
        clip.viewer_mut().set_viewport(Viewport::FIT);
        let mut side = Self { clip, none: None };
        side.go_to(side.frame());
        side
    }

    /// Returns the clip for its own screen, where this one was left.
    pub(crate) fn into_clip(mut self) -> Box<Clip> {
        self.clip.viewer_mut().set_viewport(Viewport::FIT);
        self.stage().share_memory(1);
        self.clip.update(clip::Message::FramePicked(self.frame()));
        self.clip
    }

    pub(crate) fn stage(&self) -> &Stage {
        self.clip.viewer().stage()
    }

    /// Returns the frame on screen, or wished for.
    pub(crate) fn frame(&self) -> FrameIndex {
        self.clip.viewer().frame()
    }

    /// Returns the instant of its frame.
    pub(crate) fn instant(&self) -> tie::Instant {
        self.at(self.stage().ticks_of(self.frame()))
    }

    /// Returns an instant of this clip.
    pub(crate) fn at(&self, ticks: Ticks) -> tie::Instant {
        tie::Instant { ticks, base: self.stage().time_base() }
    }

    /// Goes to a frame, or to the last one.
    pub(crate) fn go_to(&mut self, frame: FrameIndex) {
        self.none = None;
        self.clip.viewer_mut().go_to(frame);
    }

    /// Goes so many frames on. A clip that has no frame at this instant comes to its nearest one.
    pub(crate) fn step(&mut self, by: i64) {
        let from = if self.none.is_some() { 0 } else { by };
        self.go_to(self.frame().stepped(from));
    }

    /// Goes to the frame nearest to an instant, and says where there is none.
    pub(crate) fn follow(&mut self, ticks: Ticks) {
        let stage = self.stage();
        if let Some(at) = stage.nearest(ticks) {
            return self.go_to(at.index);
        }
        let (base, last) = (stage.time_base(), stage.last_frame());
        let end = stage.ticks_of(last.stepped(1));
        let is_counted = stage.footage().is_counted();
        let (frame, none) = if ticks < Ticks(0) {
            (FrameIndex::FIRST, NoFrame::BeginsIn(-base.seconds(ticks)))
        } else if is_counted {
            (last, NoFrame::EndedSince(base.seconds(Ticks(ticks.0 - end.0))))
        } else {
            (last, NoFrame::NotCounted)
        };
        self.go_to(frame);
        self.none = Some(none);
    }

    /// Lets the clip do what it does on its own screen, and stays where that leads.
    pub(crate) fn tell(&mut self, message: clip::Message) {
        self.clip.update(message);
        self.go_to(self.frame());
    }

    /// Plays from an instant, which may lie before its first frame.
    pub(crate) fn play(&mut self, from: Ticks, now: Instant) {
        let from = self.stage().time_base().seconds(from);
        let speed = self.clip.viewer().speed();
        self.clip.viewer_mut().begin(Playback::begin(now, from, speed).in_step());
    }

    /// Stops playing, if it plays, on the frame on screen.
    pub(crate) fn stop(&mut self) {
        if self.clip.viewer().plays() {
            let shown = self.stage().frame_shown();
            self.clip.viewer_mut().stop();
            self.go_to(shown.unwrap_or(self.frame()));
        }
    }

    /// Takes what the picture tells; returns whether it has played to its end.
    pub(crate) fn told(&mut self, told: Told) -> bool {
        self.clip.viewer_mut().told(told);
        if let Told::PlayedTo { .. } = told {
            self.none = None;
        }
        matches!(told, Told::PlayedOut { .. })
    }

    /// Returns whether the picture that is meant to be on screen is there.
    #[cfg(feature = "harness")]
    pub(crate) fn is_settled(&self) -> bool {
        self.none.is_some() || self.clip.viewer().is_seen()
    }
}

/// Returns a clip's name without its folder.
pub(super) fn name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}
