//! Playing: which instant of the clip belongs to which instant of the clock.

use std::time::{Duration, Instant};

/// How fast a clip is played: one `n`th of real speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Speed(u8);

impl Speed {
    /// As it happened.
    pub(crate) const REAL: Self = Self(1);
    /// All that are offered.
    pub const ALL: [Self; 4] = [Self(1), Self(2), Self(4), Self(8)];

    /// Returns one `n`th of real speed.
    pub(crate) fn one_nth(n: u8) -> Self {
        Self(n.max(1))
    }

    /// Returns the `n` of one `n`th.
    pub const fn part(self) -> u8 {
        self.0
    }

    /// Returns the speed in words.
    pub fn says(self) -> String {
        match self.0 {
            1 => "1×".to_owned(),
            n => format!("1/{n}×"),
        }
    }
}

/// A clip that is playing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Playback {
    started: Instant,
    /// Instant of the clip at which it started, in seconds.
    from: f64,
    speed: Speed,
    /// Beginning and end of what is played over and over, in seconds, where something is.
    stretch: Option<[f64; 2]>,
    /// Instant of the clip at which it ends for good, in seconds, where there is one.
    end: Option<f64>,
    /// Whether time stands still at a slow speed while a picture is not there yet.
    waits: bool,
}

impl Playback {
    /// Begins to play at an instant of the clip in seconds.
    pub const fn begin(started: Instant, from: f64, speed: Speed) -> Self {
        Self { started, from, speed, stretch: None, end: None, waits: true }
    }

    /// Begins to play a span of the clip once at real speed, from and to an instant in seconds.
    pub(crate) const fn begin_once(started: Instant, [from, to]: [f64; 2]) -> Self {
        Self { end: Some(to), ..Self::begin(started, from, Speed::REAL) }
    }

    /// Begins to play a stretch of the clip over and over, from and to an instant in seconds.
    pub(crate) const fn begin_loop(started: Instant, stretch: [f64; 2], speed: Speed) -> Self {
        Self { stretch: Some(stretch), ..Self::begin(started, stretch[0], speed) }
    }

    /// Goes by the wall's clock at every speed, so that two clips stay together.
    #[must_use]
    pub(crate) const fn in_step(self) -> Self {
        Self { waits: false, ..self }
    }

    /// Returns the instant of the clip at which it began, in seconds.
    pub(crate) const fn began(&self) -> f64 {
        self.from
    }

    /// Returns whether a stretch is played over and over.
    pub(crate) const fn is_loop(&self) -> bool {
        self.stretch.is_some()
    }

    /// Returns whether time stands still at a slow speed while a picture is not there yet.
    pub(crate) const fn waits(&self) -> bool {
        self.waits
    }

    /// Returns whether it is over at `now`; nothing where it plays to the end of the clip.
    pub(crate) fn is_over(&self, now: Instant) -> Option<bool> {
        self.end.map(|end| self.played(now) >= end)
    }

    /// Returns the instant of the clip that belongs to `now`, in seconds.
    pub(crate) fn seconds_at(&self, now: Instant) -> f64 {
        let played = self.played(now);
        match self.stretch {
            Some([from, to]) if to > from => from + (played - from).rem_euclid(to - from),
            _ => played,
        }
    }

    /// How far it would be by now without turning back, in seconds of the clip.
    fn played(&self, now: Instant) -> f64 {
        let passed = now.saturating_duration_since(self.started).as_secs_f64();
        self.from + passed / f64::from(self.speed.0)
    }

    /// Returns when an instant of the clip is due next after `now`; in a stretch that is played
    /// over and over, what lies behind its end is due where it begins again.
    pub fn due(&self, seconds: f64, now: Instant) -> Instant {
        let mut seconds = seconds;
        if let Some([from, to]) = self.stretch.filter(|[from, to]| to > from) {
            let turns = ((self.played(now) - from) / (to - from)).floor();
            seconds = seconds.min(to) + turns * (to - from);
        }
        let seconds = self.end.map_or(seconds, |end| seconds.min(end));
        let wait = ((seconds - self.from) * f64::from(self.speed.0)).max(0.0);
        // A clip is never so long that this could overflow the clock; an hour at an eighth is
        // the most that is waited for in one piece.
        self.started + Duration::from_secs_f64(wait.min(28_800.0))
    }

    /// Goes on from an instant of the clip, in seconds, at another speed.
    #[must_use]
    pub(crate) fn at_speed(&self, speed: Speed, from: f64, now: Instant) -> Self {
        Self { started: now, from, speed, ..*self }
    }
}

/// The time of what plays. At real speed it is the wall's, and pictures that come too late are left
/// out. At a slow speed it waits before the next picture until the one that is due has been drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Clock {
    of: Playback,
    wall: Instant,
    at: Instant,
}

impl Clock {
    /// How far from the instant of a picture it stops, so that rounding cannot put it on the other
    /// side; less than any picture lasts.
    const MARGIN: Duration = Duration::from_micros(100);

    /// Begins when it began to play, however much later that is looked at for the first time.
    pub(crate) const fn begin(of: Playback) -> Self {
        Self { of, wall: of.started, at: of.started }
    }

    /// Returns what it is the time of.
    pub(crate) const fn of(&self) -> Playback {
        self.of
    }

    /// Returns the time.
    pub(crate) const fn at(&self) -> Instant {
        self.at
    }

    /// Goes on to a later time of the wall: whether the picture that is due has been drawn, and
    /// when the `next` one is.
    #[must_use]
    pub(crate) fn go_on(self, wall: Instant, is_drawn: bool, next: Instant) -> Self {
        if !self.of.waits || self.of.speed == Speed::REAL {
            return Self { wall, at: wall, ..self };
        }
        let before = next.checked_sub(Self::MARGIN).unwrap_or(next);
        let most = if is_drawn { next + Self::MARGIN } else { before };
        let at = (self.at + wall.saturating_duration_since(self.wall)).min(most).max(self.at);
        Self { wall, at, ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quarter_of_the_speed_takes_four_times_as_long() {
        let start = Instant::now();
        let playback = Playback::begin(start, 2.0, Speed::one_nth(4));
        assert_eq!(playback.seconds_at(start + Duration::from_secs(4)), 3.0);
        assert_eq!(playback.due(2.5, start), start + Duration::from_secs(2));
        assert_eq!(playback.due(1.0, start), start);
    }

    #[test]
    fn a_change_of_speed_goes_on_from_the_same_picture() {
        let start = Instant::now();
        let later = start + Duration::from_secs(1);
        let playback = Playback::begin(start, 0.0, Speed::REAL);
        let slower = playback.at_speed(Speed::one_nth(2), playback.seconds_at(later), later);
        assert_eq!(slower.seconds_at(later), 1.0);
        assert_eq!(slower.seconds_at(later + Duration::from_secs(2)), 2.0);
    }

    #[test]
    fn a_span_is_played_once_and_no_further() {
        let start = Instant::now();
        let playback = Playback::begin_once(start, [2.0, 3.0]);
        assert_eq!(playback.is_over(start + Duration::from_millis(999)), Some(false));
        assert_eq!(playback.is_over(start + Duration::from_secs(1)), Some(true));
        // The picture after the span is never due: at its end the span is over instead.
        assert_eq!(playback.due(3.5, start), start + Duration::from_secs(1));
        assert_eq!(Playback::begin(start, 0.0, Speed::REAL).is_over(start), None);
    }

    #[test]
    fn a_stretch_is_played_over_and_over() {
        let start = Instant::now();
        let at = |seconds| start + Duration::from_millis(seconds);
        let playback = Playback::begin_loop(start, [2.0, 3.0], Speed::one_nth(2));
        assert_eq!(playback.seconds_at(at(1000)), 2.5);
        // Two seconds of the clock for one of the clip: after three it is half through again.
        assert_eq!(playback.seconds_at(at(3000)), 2.5);
        assert_eq!(playback.due(2.75, at(3000)), at(3500));
        assert_eq!(playback.due(9.0, at(3000)), at(4000), "what lies behind waits for the turn");
        let faster = playback.at_speed(Speed::REAL, 2.5, at(3000));
        assert_eq!(faster.seconds_at(at(3750)), 2.25);
    }

    /// Plays pictures a tenth of a second long while the window is drawn only every so often, and
    /// returns those that are drawn.
    fn drawn(playback: Playback, start: Instant, every: Duration) -> Vec<u64> {
        let mut clock = Clock::begin(playback);
        let mut drawn = Vec::new();
        for turn in 0..8 {
            let due = |clock: Clock| (playback.seconds_at(clock.at()) * 10.0).floor();
            let next = playback.due((due(clock) + 1.0) / 10.0, clock.at());
            let is_drawn = drawn.last() == Some(&(due(clock) as u64));
            clock = clock.go_on(start + every * turn, is_drawn, next);
            drawn.push(due(clock) as u64);
        }
        drawn
    }

    #[test]
    fn a_slow_machine_leaves_pictures_out_at_real_speed_and_none_at_a_slow_one() {
        let start = Instant::now();
        let every = Duration::from_millis(500);
        let real = Playback::begin(start, 0.0, Speed::REAL);
        assert_eq!(drawn(real, start, every), [0, 5, 10, 15, 20, 25, 30, 35]);
        let half = Playback::begin(start, 0.0, Speed::one_nth(2));
        assert_eq!(drawn(half, start, every), [0, 1, 2, 3, 4, 5, 6, 7]);
        // Beside another clip it keeps in step instead.
        assert_eq!(drawn(half.in_step(), start, every), [0, 2, 5, 7, 10, 12, 15, 17]);
        // On a machine that keeps up, a slow speed is neither slower nor faster than it says.
        let often = Duration::from_millis(50);
        assert_eq!(drawn(half, start, often), [0, 0, 0, 0, 1, 1, 1, 1]);
    }

    #[test]
    fn time_waits_for_a_picture_that_is_not_drawn_yet() {
        let start = Instant::now();
        let half = Playback::begin(start, 0.0, Speed::one_nth(2));
        let next = half.due(0.1, start);
        let late = Clock::begin(half).go_on(start + Duration::from_secs(9), false, next);
        assert!(half.seconds_at(late.at()) < 0.1);
        let later = late.go_on(start + Duration::from_secs(10), true, next);
        assert!((0.1..0.11).contains(&half.seconds_at(later.at())));
    }
}
