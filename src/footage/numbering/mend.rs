//! When each frame is shown: by the stamps of its file, mended where they cannot be true.
//!
//! What is wrong with one stamp, or where a clock starts anew, changes nothing elsewhere. Times are
//! made from the front, and each looks [`REACH`] stamps ahead at most: whether a stamp or its
//! neighbours lie out of order only those behind it can tell. So reading more of a clip moves no
//! frame that has as many stamps behind it.

use std::collections::VecDeque;

use serde::Serialize;

use crate::units::Ticks;

/// How the time of a frame is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum TimeSource {
    /// By the file's stamp, on the clock of the frames before.
    Given,
    /// The file's clock starts anew here: the frame follows the one before by a frame's usual
    /// length, and those behind it follow by their stamps.
    Joined,
    /// The file has no stamp for it, or one out of order; it follows from its neighbours, else from
    /// the frame rate.
    Assumed,
}

/// How many stamps ahead one is held against, and how many steps back tell a frame's usual length:
/// as many pictures as codecs let one wait for.
pub(super) const REACH: usize = 16;

/// The pictures in the order in which a decoder shows them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line<'a> {
    pub stamps: &'a [Option<i64>],
    /// Where each would lie if none had a stamp; rising.
    pub counted: &'a [i64],
    /// The ticks after which the file's clock begins again at zero.
    pub turn: Option<i64>,
}

/// Returns each frame's time: the first is zero, and none lies before the one in front of it.
pub(super) fn mend(line: Line<'_>) -> Vec<(Ticks, TimeSource)> {
    let stamps = line.stamps.iter().enumerate();
    let given: Vec<(usize, i64)> = stamps.filter_map(|(k, stamp)| Some((k, (*stamp)?))).collect();
    let mut mending = Mending {
        line,
        given: &given,
        offset: None,
        times: [0; 2],
        source: TimeSource::Assumed,
        steps: VecDeque::with_capacity(REACH),
    };
    let frames = (0..line.stamps.len()).map(|k| mending.next(k));
    frames.map(|(time, source)| (Ticks(narrow(time)), source)).collect()
}

/// Numbers are wide, because a damaged file's stamps may be anything.
struct Mending<'a> {
    line: Line<'a>,
    /// The frames with stamps that are still to come.
    given: &'a [(usize, i64)],
    /// What makes a time of a stamp, once there was one.
    offset: Option<i128>,
    /// The times of the last frame but one and of the last.
    times: [i128; 2],
    source: TimeSource,
    /// The last steps from one stamp to the next.
    steps: VecDeque<i128>,
}

impl Mending<'_> {
    fn next(&mut self, k: usize) -> (i128, TimeSource) {
        let stamp = self.line.stamps[k];
        if stamp.is_some() {
            self.given = &self.given[1..];
        }
        let last = self.times[1];
        let (time, source) = match (stamp, stamp.and_then(|stamp| self.time_of(stamp))) {
            (Some(_), _) if k == 0 => (0, TimeSource::Given),
            (None, _) if k == 0 => (0, TimeSource::Assumed),
            // What lies before the first stamp of all was counted.
            (Some(_), None) => (last + self.step(k), TimeSource::Given),
            (None, _) => (self.missing(k), TimeSource::Assumed),
            (Some(_), Some(time)) if time < last => self.fallen_back(k, time),
            (Some(_), Some(time)) => self.gone_on(k, time),
        };
        match stamp {
            Some(stamp) if source == TimeSource::Joined || self.offset.is_none() => {
                self.offset = Some(time - i128::from(stamp));
                self.steps.clear();
            }
            // A step beside an assumed time is as assumed as that.
            _ if source == TimeSource::Given && self.source != TimeSource::Assumed => {
                self.steps.truncate(REACH - 1);
                self.steps.push_front(time - last);
            }
            _ => {}
        }
        (self.times, self.source) = ([if k == 0 { time } else { last }, time], source);
        (time, source)
    }

    /// A stamp that lies behind the frame before is right, however far, unless those behind it go
    /// back to where it should be.
    fn gone_on(&self, k: usize, time: i128) -> (i128, TimeSource) {
        let last = self.times[1];
        let mut later = self.later();
        if let Some((then, back)) = later.find(|&(_, later)| later < time)
            && back > last
        {
            // Where two recordings are joined, the second may begin just before the first one's last
            // frame; but then its second frame lies behind that.
            let alone =
                then == k + 1 && later.next().is_some_and(|(_, on)| back <= on && on < time);
            if alone || self.has_room(k, (then, back)) {
                return (self.spread(k, (then, back)), TimeSource::Assumed);
            }
        }
        (time, TimeSource::Given)
    }

    /// A stamp that lies before the frame before is wrong, or the first of another clock.
    fn fallen_back(&self, k: usize, time: i128) -> (i128, TimeSource) {
        let [before, last] = self.times;
        if let Some((then, on)) = self.later().find(|&(_, later)| later > last) {
            // On another clock, the next stamp passes the last frame only where this one nearly does.
            let step = self.step(k);
            let alone = then == k + 1 && (time < before || 4 * (on - last) >= 3 * step);
            if alone || self.has_room(k, (then, on)) {
                return (self.spread(k, (then, on)), TimeSource::Assumed);
            }
        }
        let runs_on = self.later().next().is_some_and(|(_, later)| later >= time);
        let source = if runs_on { TimeSource::Joined } else { TimeSource::Assumed };
        (last + self.step(k).max(1), source)
    }

    /// Returns the time of a frame without a stamp.
    fn missing(&self, k: usize) -> i128 {
        let last = self.times[1];
        match self.later().next() {
            Some(next) if next.1 >= last => self.spread(k, next),
            _ => last + self.step(k),
        }
    }

    /// Returns whether the frames from `k` up to another one have the room that they need there, but
    /// for half a step.
    fn has_room(&self, k: usize, (then, time): (usize, i128)) -> bool {
        let steps = (then - k) as i128 + 1;
        2 * (time - self.times[1]) >= (2 * steps - 1) * self.step(k)
    }

    /// Returns the time of frame `k` where those up to another one lie evenly; but a gap in the
    /// recording is no reason to stretch a frame.
    fn spread(&self, k: usize, (then, time): (usize, i128)) -> i128 {
        let share = (time - self.times[1]) / ((then - k) as i128 + 1);
        let step = self.step(k);
        self.times[1] + if share > 2 * step { step } else { share }
    }

    /// Returns the next frames with stamps, and the times that these tell.
    fn later(&self) -> impl Iterator<Item = (usize, i128)> {
        let next = self.given.iter().take(REACH);
        next.filter_map(|&(k, stamp)| Some((k, self.time_of(stamp)?)))
    }

    /// Returns the time that a stamp tells, in the turn of the clock that is nearest.
    fn time_of(&self, stamp: i64) -> Option<i128> {
        let time = i128::from(stamp) + self.offset?;
        Some(match self.line.turn.map(i128::from) {
            Some(turn) => {
                let last = self.times[1];
                last + (time - last + turn / 2).rem_euclid(turn) - turn / 2
            }
            None => time,
        })
    }

    /// Returns the usual length of a frame around here: the middle one of the last steps, else as
    /// frames are counted.
    fn step(&self, k: usize) -> i128 {
        let mut steps: Vec<i128> = self.steps.iter().copied().filter(|&step| step > 0).collect();
        steps.sort_unstable();
        let counted = |k: usize| i128::from(self.line.counted[k]);
        let usual = steps.get(steps.len().saturating_sub(1) / 2).copied();
        usual.unwrap_or_else(|| k.checked_sub(1).map_or(0, |before| counted(k) - counted(before)))
    }
}

fn narrow(time: i128) -> i64 {
    time.clamp(i64::MIN.into(), i64::MAX.into()) as i64
}

#[cfg(test)]
mod tests;
