//! Going through the clip and looking at its picture.

use std::time::Instant;

use crate::{
    units::FrameIndex,
    window::{
        paper::Key,
        screens::clip::{Action, Clip},
        theme::part,
        viewer::{
            frame::Told,
            playback::{Playback, Speed},
            stage::Playing,
            viewport::Room,
        },
    },
};

impl Clip {
    pub(crate) fn step(&mut self, by: i64) -> Action {
        let from = self.stop();
        self.go_to(from.stepped(by))
    }

    pub(crate) fn go_to(&mut self, frame: FrameIndex) -> Action {
        if self.stop() != frame {
            self.dropped = 0;
        }
        self.frame = frame.min(self.stage.last_frame());
        self.stage.want(self.frame);
        self.ribbon.look_around(&self.stage, self.frame);
        Action::None
    }

    /// Goes to a frame that the hand on the clip line points at, and may not mean yet.
    pub(crate) fn point_at(&mut self, frame: FrameIndex) -> Action {
        self.stop();
        self.frame = frame.min(self.stage.last_frame());
        self.stage.glance(self.frame);
        self.ribbon.look_around(&self.stage, self.frame);
        Action::None
    }

    /// Takes in the pictures and the sheet that have arrived.
    pub(crate) fn take_arrived(&mut self) -> Action {
        self.session.collect();
        self.chosen = self.chosen.filter(|key| self.session.paper().line(*key).is_some());
        self.ribbon.collect(&self.stage);
        if self.jobs.is_busy() {
            // What waits for its picture may not go into marks that are about to be others.
            return Action::None;
        }
        match self.stage.trouble(self.frame) {
            Some(trouble) => {
                self.put_what_waits();
                self.complain(&trouble)
            }
            None => self.put_what_is_seen(),
        }
    }

    pub(crate) fn told(&mut self, told: Told) -> Action {
        match told {
            Told::Room(room) => self.take_room(room),
            Told::Viewport(viewport) => self.viewport = viewport,
            Told::Pointer(pointer) => return self.pointed(pointer),
            Told::PlayedTo { frame, dropped } => (self.frame, self.dropped) = (frame, dropped),
            Told::PlayedOut { .. } => {
                // How many were dropped is for reading once it is over.
                let dropped = self.dropped;
                let action = self.go_to(self.stage.last_frame());
                self.dropped = dropped;
                return action;
            }
        }
        Action::None
    }

    /// Takes note of the picture's room. In a small window, or with everything shown large, the
    /// paper leaves the picture half of the width.
    fn take_room(&mut self, room: [f64; 2]) {
        let whole = room[0] as f32 + self.paper_width;
        self.paper_width = part::PAPER.min(whole / 2.0);
        self.room = room;
    }

    pub(crate) fn toggle_play(&mut self) -> Action {
        if self.playback.is_some() {
            let frame = self.stop();
            return self.go_to(frame);
        }
        let from =
            if self.frame == self.stage.last_frame() { FrameIndex::FIRST } else { self.frame };
        let seconds = self.stage.seconds_of(from);
        self.playback = Some(Playback::begin(Instant::now(), seconds, self.speed));
        self.dropped = 0;
        self.stage.set_playing(Playing::Yes);
        Action::None
    }

    pub(crate) fn set_speed(&mut self, speed: Speed) -> Action {
        self.speed = speed;
        let (now, shown) = (Instant::now(), self.stage.frame_shown());
        self.playback = self.playback.map(|playback| {
            let shown = shown.map(|frame| self.stage.seconds_of(frame));
            playback.at_speed(speed, shown.unwrap_or_else(|| playback.seconds_at(now)), now)
        });
        Action::None
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

    pub(crate) fn room(&self) -> Room {
        Room {
            picture: self.stage.upright(self.turn()).shown_size().map(f64::from),
            room: self.room,
        }
    }

    /// Goes to the next frame that carries a mark.
    pub(crate) fn next_mark(&mut self) -> Action {
        let next = self.session.marked_frames().into_iter().find(|frame| *frame > self.frame);
        next.map_or(Action::None, |frame| self.go_to_mark(frame))
    }

    pub(crate) fn mark_before(&mut self) -> Action {
        let before =
            self.session.marked_frames().into_iter().rev().find(|frame| *frame < self.frame);
        before.map_or(Action::None, |frame| self.go_to_mark(frame))
    }

    fn go_to_mark(&mut self, frame: FrameIndex) -> Action {
        self.chosen = self.session.first_on(frame).map(Key::Item);
        self.go_to(frame);
        self.show_chosen()
    }

    /// Chooses a line of the paper and goes to its frame.
    pub(crate) fn choose(&mut self, key: Key) -> Action {
        self.chosen = Some(key);
        if let Some(frame) = self.session.paper().line(key).and_then(|line| line.frame) {
            self.go_to(frame);
        }
        self.show_chosen()
    }

    pub(crate) fn next_line(&mut self, by: isize) -> Action {
        let keys: Vec<Key> = self.session.paper().keys().collect();
        let here = self.chosen.and_then(|key| keys.iter().position(|other| *other == key));
        let next = match here {
            Some(here) => here.saturating_add_signed(by).min(keys.len().saturating_sub(1)),
            None if by > 0 => 0,
            None => keys.len().saturating_sub(1),
        };
        keys.get(next).map_or(Action::None, |key| self.choose(*key))
    }
}
