//! Going through two clips: one leads, and the other follows by time while they are tied.

use std::{path::Path, time::Instant};

use crate::{
    units::{FrameIndex, Ticks, tie},
    window::{
        keymap::View,
        screens::clip,
        viewer::{frame::Told, playback::Speed},
    },
};

use super::{
    message::{Action, Message, Which},
    screen::{Pair, Second},
    side::{NoFrame, Side},
};

impl Pair {
    pub(crate) fn side(&self, which: Which) -> Option<&Side> {
        match (which, &self.second) {
            (Which::First, _) => Some(&self.first),
            (Which::Second, Second::There(second)) => Some(second),
            (Which::Second, Second::Asked(_)) => None,
        }
    }

    pub(crate) fn side_mut(&mut self, which: Which) -> Option<&mut Side> {
        match (which, &mut self.second) {
            (Which::First, _) => Some(&mut self.first),
            (Which::Second, Second::There(second)) => Some(second),
            (Which::Second, Second::Asked(_)) => None,
        }
    }

    fn each(&mut self) -> impl Iterator<Item = &mut Side> {
        let second = match &mut self.second {
            Second::There(second) => Some(&mut **second),
            Second::Asked(_) => None,
        };
        std::iter::once(&mut self.first).chain(second)
    }

    /// Returns the tie as an instant of one of them.
    pub(crate) fn tie_of(&self, which: Which) -> Option<tie::Instant> {
        let ticks = self.tie?[which as usize];
        Some(self.side(which)?.at(ticks))
    }

    /// Moves one clip, which leads from now on, and brings the other one along.
    pub(crate) fn lead(&mut self, which: Which, to: impl FnOnce(&mut Side)) {
        self.stop();
        let Some(side) = self.side_mut(which) else { return };
        to(side);
        self.leads = which;
        self.follow();
    }

    /// Brings the clip that does not lead to the instant of the one that does.
    fn follow(&mut self) {
        let (leads, other) = (self.leads, self.leads.other());
        let Some(ticks) = self.instant_across(leads) else { return };
        if let Some(side) = self.side_mut(other) {
            side.follow(ticks);
        }
    }

    /// Returns the instant of the other clip that belongs to the frame of this one.
    fn instant_across(&self, leads: Which) -> Option<Ticks> {
        let at = self.side(leads)?.instant().ticks;
        Some(tie::across(at, self.tie_of(leads)?, self.tie_of(leads.other())?))
    }

    /// Ties the clips at the frames on screen; unties them when they are tied.
    pub(crate) fn turn_tie(&mut self) {
        self.stop();
        self.tie = match (self.tie, self.side(Which::Second)) {
            (None, Some(second)) => Some([self.first.instant().ticks, second.instant().ticks]),
            _ => None,
        };
        for side in self.each() {
            if side.none.is_some() {
                side.go_to(side.frame());
            }
        }
    }

    /// Ties them at the element that the first one shows, where the second one has it too: at
    /// where it was seen first in each.
    pub(crate) fn tie_at_same_element(&mut self) {
        let Some(element) = self.first.clip.element_here() else { return };
        let ties = [Which::First, Which::Second]
            .map(|which| self.side(which).and_then(|side| side.clip.first_seen(&element)));
        if let [Some(first), Some(second)] = ties {
            self.tie = Some([first, second]);
            self.leads = Which::First;
            self.follow();
        }
    }

    /// Opens another routine of the clip that leads.
    pub(crate) fn turn_routine(&mut self, by: i8) -> Action {
        self.stop();
        self.update_clip(self.leads, clip::Message::RoutineTurned(by))
    }

    /// Lets a clip do something, and goes where it went.
    pub(crate) fn update_clip(&mut self, which: Which, message: clip::Message) -> Action {
        let Some(side) = self.side_mut(which) else { return Action::None };
        let at = |side: &Side| (side.clip.session().path().map(Path::to_owned), side.frame());
        let before = at(side);
        let mut next = Some(message);
        while let Some(message) = next {
            // What it asks of the program is for its own screen.
            side.clip.update(message);
            next = side.clip.next_held();
        }
        let (after, started) = (at(side), Self::started(side, which));
        if after != before {
            self.lead(which, |side| side.go_to(after.1));
        }
        started
    }

    /// Carries out what a clip has begun beside the window's thread.
    fn started(side: &mut Side, which: Which) -> Action {
        Action::Run(side.clip.started().map(move |message| Message::Clip(which, message)))
    }

    pub(crate) fn toggle_play(&mut self) {
        if self.each().any(|side| side.clip.viewer().plays()) {
            self.stop();
            return self.follow();
        }
        let (now, leads) = (Instant::now(), self.leads);
        let at_end = |side: &Side| side.frame() == side.stage().last_frame();
        if self.side(leads).is_some_and(at_end) {
            self.lead(leads, |side| side.go_to(FrameIndex::FIRST));
        }
        let other = self.instant_across(leads);
        if let Some(side) = self.side_mut(leads) {
            side.play(side.instant().ticks, now);
        }
        if let (Some(ticks), Some(side)) = (other, self.side_mut(leads.other()))
            && !matches!(side.none, Some(NoFrame::EndedSince(_) | NoFrame::NotCounted))
        {
            side.play(ticks, now);
        }
    }

    pub(crate) fn set_speed(&mut self, speed: Speed) {
        for side in self.each() {
            side.clip.viewer_mut().set_speed(speed);
        }
    }

    pub(crate) fn stop(&mut self) {
        for side in self.each() {
            side.stop();
        }
    }

    /// Takes what a picture tells. When the clip that leads is over, both stop.
    pub(crate) fn told(&mut self, which: Which, told: Told) {
        let leads = self.leads == which;
        let Some(side) = self.side_mut(which) else { return };
        if !side.told(told) {
            return;
        }
        let last = side.stage().last_frame();
        if leads {
            self.lead(which, |side| side.go_to(last));
        } else {
            side.stop();
            side.none = Some(NoFrame::EndedSince(0.0));
        }
    }

    /// Zooms or moves both pictures alike.
    pub(crate) fn look(&mut self, view: View) {
        for side in self.each() {
            let turn = side.clip.turned();
            side.clip.viewer_mut().look(view, turn);
        }
    }

    /// Takes in what has arrived. A clip that is counted on meanwhile may have the frame by now.
    pub(crate) fn take_arrived(&mut self, which: Which) -> Action {
        if let Some(side) = self.side_mut(which) {
            side.clip.collect();
            if side.none.is_some() && which != self.leads {
                self.follow();
            }
        }
        Action::None
    }
}
