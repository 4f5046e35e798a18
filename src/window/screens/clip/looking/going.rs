//! Going through the clip and looking at its picture.

use crate::{
    marks::{Mark, What},
    units::{FrameIndex, Ticks},
    window::{
        paper::Key,
        screens::clip::{Action, Clip},
        theme::part,
        viewer::{frame::Told, playback::Speed, viewport::Room},
    },
};

impl Clip {
    pub(crate) fn step(&mut self, by: i64) -> Action {
        self.viewer.step(by);
        self.look_around()
    }

    pub(crate) fn go_to(&mut self, frame: FrameIndex) -> Action {
        self.viewer.go_to(frame);
        self.look_around()
    }

    /// Goes to the frame of what was measured first, or of the first fault where nothing was.
    pub(crate) fn go_to_measured(&mut self) {
        let Some(sheaf) = self.session.sheaf() else { return };
        let measured = sheaf.readings.iter().map(|reading| (reading.id, reading.at));
        let is_fault = |mark: &&Mark| matches!(mark.what, What::Fault { .. });
        let faults = sheaf.marks.iter().filter(is_fault).map(|mark| (mark.id, mark.at));
        let mut all = measured.chain(faults).filter_map(|(id, at)| Some((id, at.frame()?.index)));
        if let Some((id, frame)) = all.next() {
            self.chosen = Some(Key::Item(id));
            self.go_to(frame);
        }
    }

    /// Goes to the frame nearest to an instant.
    pub(crate) fn go_to_instant(&mut self, instant: Ticks) {
        if let Some(frame) = self.viewer.stage().nearest(instant) {
            self.go_to(frame.index);
        }
    }

    /// Goes to a frame that the hand on the clip line points at, and may not mean yet.
    pub(crate) fn point_at(&mut self, frame: FrameIndex) -> Action {
        self.viewer.point_at(frame);
        self.look_around()
    }

    /// Lets the ribbon show what lies around the frame on screen.
    fn look_around(&mut self) -> Action {
        self.turning = None;
        self.ribbon.look_around(self.viewer.stage(), self.viewer.frame());
        Action::None
    }

    /// Takes in the pictures and the sheet that have arrived.
    pub(crate) fn take_arrived(&mut self) -> Action {
        self.session.collect();
        self.chosen = self.chosen.filter(|key| self.session.paper().line(*key).is_some());
        self.ribbon.collect(self.viewer.stage());
        if self.jobs.is_busy() {
            // What waits for its picture may not go into marks that are about to be others.
            return Action::None;
        }
        let action = match self.viewer.trouble() {
            Some(trouble) => {
                self.put_what_waits();
                self.complain(&trouble)
            }
            None => self.put_what_is_seen(),
        };
        self.settle_unproved();
        match action {
            Action::None => self.look_on(),
            other => other,
        }
    }

    pub(crate) fn told(&mut self, told: Told) -> Action {
        self.viewer.told(told);
        match told {
            Told::Room([width, _]) => self.share_width(width as f32),
            Told::Pointer(pointer) => return self.pointed(pointer),
            Told::PlayedOut { .. } => {
                self.viewer.play_out();
                return self.look_around();
            }
            Told::Viewport(_) | Told::PlayedTo { .. } => {}
        }
        Action::None
    }

    /// In a small window, or with everything shown large, the paper leaves the picture half of the
    /// width.
    fn share_width(&mut self, picture: f32) {
        let whole = picture + self.paper_width;
        self.paper_width = part::PAPER.min(whole / 2.0);
    }

    pub(crate) fn toggle_play(&mut self) -> Action {
        if self.viewer.plays() {
            return self.step(0);
        }
        self.viewer.play();
        Action::None
    }

    pub(crate) fn set_speed(&mut self, speed: Speed) -> Action {
        self.viewer.set_speed(speed);
        Action::None
    }

    pub(crate) fn room(&self) -> Room {
        self.viewer.room(self.turn())
    }

    /// Goes to the next frame that carries a mark.
    pub(crate) fn next_mark(&mut self) -> Action {
        let next =
            self.session.marked_frames().into_iter().find(|frame| *frame > self.viewer.frame());
        next.map_or(Action::None, |frame| self.go_to_mark(frame))
    }

    pub(crate) fn mark_before(&mut self) -> Action {
        let before = self
            .session
            .marked_frames()
            .into_iter()
            .rev()
            .find(|frame| *frame < self.viewer.frame());
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
