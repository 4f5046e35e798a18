//! Playing: which instant of the clip belongs to which instant of the clock.

use std::time::{Duration, Instant};

/// How fast a clip is played: one `n`th of real speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Speed(u8);

impl Speed {
    /// As it happened.
    pub const REAL: Self = Self(1);
    /// All that are offered.
    pub const ALL: [Self; 4] = [Self(1), Self(2), Self(4), Self(8)];

    /// Returns one `n`th of real speed.
    pub fn one_nth(n: u8) -> Self {
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
}

impl Playback {
    /// Begins to play at an instant of the clip in seconds.
    pub const fn begin(started: Instant, from: f64, speed: Speed) -> Self {
        Self { started, from, speed }
    }

    /// Returns the instant of the clip that belongs to `now`, in seconds.
    pub fn seconds_at(&self, now: Instant) -> f64 {
        let passed = now.saturating_duration_since(self.started).as_secs_f64();
        self.from + passed / f64::from(self.speed.0)
    }

    /// Returns when an instant of the clip is due.
    pub fn due(&self, seconds: f64) -> Instant {
        let wait = ((seconds - self.from) * f64::from(self.speed.0)).max(0.0);
        // A clip is never so long that this could overflow the clock; an hour at an eighth is
        // the most that is waited for in one piece.
        self.started + Duration::from_secs_f64(wait.min(28_800.0))
    }

    /// Goes on from the same picture at another speed.
    #[must_use]
    pub fn at_speed(&self, speed: Speed, now: Instant) -> Self {
        Self::begin(now, self.seconds_at(now), speed)
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
        assert_eq!(playback.due(2.5), start + Duration::from_secs(2));
        assert_eq!(playback.due(1.0), start);
    }

    #[test]
    fn a_change_of_speed_goes_on_from_the_same_picture() {
        let start = Instant::now();
        let later = start + Duration::from_secs(1);
        let slower = Playback::begin(start, 0.0, Speed::REAL).at_speed(Speed::one_nth(2), later);
        assert_eq!(slower.seconds_at(later), 1.0);
        assert_eq!(slower.seconds_at(later + Duration::from_secs(2)), 2.0);
    }
}
