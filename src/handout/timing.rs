//! Which frame of a clip is shown when in a replay; in integers, from the clip's own times.

use std::{num::NonZeroU32, str::FromStr};

use crate::units::{Ticks, TimeBase};

use super::error::HandoutError;

/// How fast a clip goes by: so many seconds of it in so many of the replay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Speed {
    clip: NonZeroU32,
    replay: NonZeroU32,
}

/// One way through the frames.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pass {
    /// How fast it goes.
    pub speed: Speed,
    /// Where it stops.
    pub stops: Vec<Stop>,
}

/// A frame on which a replay stops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The frame.
    pub frame: usize,
    /// For how long, in milliseconds.
    pub milliseconds: u32,
    /// What is written under it meanwhile; may be empty.
    pub caption: String,
}

impl Stop {
    /// For how long it stops unless somebody says otherwise, in milliseconds.
    pub const USUAL: u32 = 2000;
}

/// A frame that is shown for some pictures of the replay.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Beat<'a> {
    pub frame: usize,
    pub times: u32,
    pub caption: &'a str,
}

/// The frames that a replay goes through.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stretch<'a> {
    /// Number of the first one.
    pub first: usize,
    /// When each is shown.
    pub times: &'a [Ticks],
    /// When the last one ends.
    pub end: Ticks,
    pub base: TimeBase,
}

/// Largest number in a speed.
const MOST_PART: u32 = 10_000;
/// Longest replay in seconds.
const MOST_SECONDS: u64 = 600;
/// Rates at which cameras film and screens show, as fractions.
const USUAL_RATES: [[u32; 2]; 8] =
    [[24_000, 1001], [24, 1], [25, 1], [30_000, 1001], [30, 1], [50, 1], [60_000, 1001], [60, 1]];
/// How far a clip's own rate may be off one of these to be taken for it, as a share.
const NEAR: f64 = 0.000_5;
/// Pictures a second that a replay has at least, and at most.
const SLOWEST: f64 = 20.0;
const FASTEST: f64 = 60.5;

impl Speed {
    /// As it was.
    pub const REAL: Self = Self { clip: NonZeroU32::MIN, replay: NonZeroU32::MIN };
    /// How a stretch goes by unless somebody says otherwise: as it was, then at a quarter of that.
    pub const USUAL: [Self; 2] =
        [Self::REAL, Self { clip: NonZeroU32::MIN, replay: NonZeroU32::new(4).unwrap() }];

    /// Returns so many seconds of the clip in so many of the replay; nothing where one is zero, or too
    /// large.
    pub fn new(clip: u32, replay: u32) -> Option<Self> {
        let fits = clip <= MOST_PART && replay <= MOST_PART;
        Some(Self { clip: NonZeroU32::new(clip)?, replay: NonZeroU32::new(replay)? })
            .filter(|_| fits)
    }
}

/// What is no speed.
#[derive(Debug, thiserror::Error)]
#[error("{0}: is not a speed; write 1 for real speed, 1/4 or 0.25 for a quarter of it")]
pub struct NoSpeed(String);

impl FromStr for Speed {
    type Err = NoSpeed;

    fn from_str(text: &str) -> Result<Self, NoSpeed> {
        let number = |part: &str| part.trim().parse::<u32>().ok();
        let fraction = || {
            let (clip, replay) = text.split_once('/')?;
            Self::new(number(clip)?, number(replay)?)
        };
        let decimal = || {
            let (whole, parts) = text.trim().split_once('.').unwrap_or((text, ""));
            let digits = u32::try_from(parts.len()).ok().filter(|digits| *digits <= 3)?;
            let one = 10_u32.pow(digits);
            let parts = if parts.is_empty() { 0 } else { number(parts)? };
            Self::new(number(whole)?.checked_mul(one)?.checked_add(parts)?, one)
        };
        fraction().or_else(decimal).ok_or_else(|| NoSpeed(text.to_owned()))
    }
}

/// Returns how many pictures a second a replay has: as many as the clip, or half or a quarter of them
/// where it has more than screens show.
pub(super) fn rate(stretch: &Stretch<'_>) -> [u32; 2] {
    let usual = [30, 1];
    let (Some(first), count) = (stretch.times.first(), stretch.times.len()) else { return usual };
    let seconds = stretch.base.seconds(Ticks(stretch.end.0 - first.0));
    let mut own = count as f64 / seconds;
    if !own.is_finite() || own < SLOWEST {
        return usual;
    }
    while own > FASTEST {
        own /= 2.0;
    }
    let off =
        |[count, seconds]: &[u32; 2]| (own / (f64::from(*count) / f64::from(*seconds)) - 1.0).abs();
    let near = USUAL_RATES.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    match near {
        Some(near) if off(near) < NEAR => *near,
        _ => [(own * 100.0).round() as u32, 100],
    }
}

/// Returns how the frames go by.
pub(super) fn beats<'a>(
    stretch: &Stretch<'_>,
    rate: [u32; 2],
    passes: &'a [Pass],
) -> Result<Vec<Beat<'a>>, HandoutError> {
    let mut beats = Vec::new();
    for pass in passes {
        run(stretch, rate, pass, &mut beats)?;
    }
    let most = MOST_SECONDS * u64::from(rate[0]) / u64::from(rate[1].max(1));
    let all: u64 = beats.iter().map(|beat| u64::from(beat.times)).sum();
    if all > most {
        let seconds = all * u64::from(rate[1]) / u64::from(rate[0].max(1));
        return Err(HandoutError::TooLong { seconds, most: MOST_SECONDS });
    }
    if all == 0 { Err(HandoutError::NoPass) } else { Ok(beats) }
}

fn run<'a>(
    stretch: &Stretch<'_>,
    [count, seconds]: [u32; 2],
    pass: &'a Pass,
    beats: &mut Vec<Beat<'a>>,
) -> Result<(), HandoutError> {
    // A picture of the replay is a tick of a clock of its own.
    let [clip, replay] = [pass.speed.clip, pass.speed.replay].map(NonZeroU32::get);
    let clock = clip.checked_mul(seconds).zip(replay.checked_mul(count));
    let clock = clock.and_then(|(up, down)| TimeBase::new(up, down)).ok_or(HandoutError::NoPass)?;
    let (Some(begin), all) = (stretch.times.first(), stretch.times.len()) else { return Ok(()) };
    let mut shown = vec![0_u32; all];
    let [_, length] = stretch.base.in_base(Ticks(stretch.end.0 - begin.0), clock);
    let most = MOST_SECONDS as i64 * i64::from(count) / i64::from(seconds.max(1)) + 1;
    for picture in 0..length.0.clamp(1, most) {
        let [at, _] = clock.in_base(Ticks(picture), stretch.base);
        let at = Ticks(begin.0 + at.0);
        let place = stretch.times.partition_point(|time| *time <= at).saturating_sub(1);
        if let Some(shown) = shown.get_mut(place) {
            *shown += 1;
        }
    }
    for (place, times) in shown.into_iter().enumerate() {
        let frame = stretch.first + place;
        let stop = pass.stops.iter().find(|stop| stop.frame == frame);
        let held = stop.map_or(0, |stop| {
            let pictures = u64::from(stop.milliseconds) * u64::from(count);
            pictures.div_ceil(1000 * u64::from(seconds.max(1))) as u32
        });
        let caption = stop.map_or("", |stop| &*stop.caption);
        if times + held > 0 {
            beats.push(Beat { frame, times: times.saturating_add(held), caption });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn base(denominator: u32) -> TimeBase {
        TimeBase::new(1, denominator).unwrap()
    }

    fn times(count: i64, step: i64) -> Vec<Ticks> {
        (0..count).map(|k| Ticks(k * step)).collect()
    }

    fn pass(speed: &str, stops: Vec<Stop>) -> Pass {
        Pass { speed: speed.parse().unwrap(), stops }
    }

    fn shown(beats: &[Beat<'_>]) -> Vec<(usize, u32)> {
        beats.iter().map(|beat| (beat.frame, beat.times)).collect()
    }

    #[test]
    fn real_speed_shows_each_frame_once_and_a_quarter_four_times() {
        let times = times(3, 512);
        let stretch = Stretch { first: 7, times: &times, end: Ticks(1536), base: base(15_360) };
        assert_eq!(rate(&stretch), [30, 1]);
        let passes = [pass("1", vec![]), pass("1/4", vec![])];
        let beats = beats(&stretch, [30, 1], &passes).unwrap();
        assert_eq!(shown(&beats), [(7, 1), (8, 1), (9, 1), (7, 4), (8, 4), (9, 4)]);
    }

    #[test]
    fn a_stop_of_two_seconds_is_two_seconds_long_even_on_a_frame_that_would_be_left_out() {
        // 120 a second are shown as 60, so that every second one is left out.
        let times = times(6, 1);
        let stretch = Stretch { first: 0, times: &times, end: Ticks(6), base: base(120) };
        assert_eq!(rate(&stretch), [60, 1]);
        let stop = Stop { frame: 3, milliseconds: 2000, caption: "here".to_owned() };
        let passes = [pass("1", vec![stop])];
        let beats = beats(&stretch, [60, 1], &passes).unwrap();
        assert_eq!(shown(&beats), [(0, 1), (2, 1), (3, 120), (4, 1)]);
        assert_eq!(beats[2].caption, "here");
    }

    /// 30000/1001 frames a second at 1001 ticks of 1/30000 s: two minutes without drift.
    #[test]
    fn odd_rates_do_not_drift() {
        let times = times(3600, 1001);
        let end = Ticks(3600 * 1001);
        let stretch = Stretch { first: 0, times: &times, end, base: base(30_000) };
        assert_eq!(rate(&stretch), [30_000, 1001]);
        let passes = [pass("0.5", vec![])];
        let beats = beats(&stretch, [30_000, 1001], &passes).unwrap();
        assert!(beats.iter().enumerate().all(|(k, beat)| (beat.frame, beat.times) == (k, 2)));
    }

    #[test]
    fn frames_of_uneven_length_are_shown_for_as_long_as_they_were() {
        let times = [0, 100, 150, 400].map(Ticks);
        let stretch = Stretch { first: 0, times: &times, end: Ticks(500), base: base(1000) };
        let passes = [pass("1/2", vec![])];
        let beats = beats(&stretch, [20, 1], &passes).unwrap();
        assert_eq!(shown(&beats), [(0, 4), (1, 2), (2, 10), (3, 4)]);
    }

    #[test]
    fn what_is_no_speed_or_takes_too_long_is_told() {
        for odd in ["0", "1/0", "", "fast", "-1", "0.0001", "1/100000"] {
            assert!(odd.parse::<Speed>().is_err(), "{odd}");
        }
        assert_eq!("0.25".parse::<Speed>().unwrap(), Speed::new(25, 100).unwrap());
        let times = times(3000, 1);
        let stretch = Stretch { first: 0, times: &times, end: Ticks(3000), base: base(30) };
        let passes = [pass("1/10", vec![])];
        let long = beats(&stretch, [30, 1], &passes).unwrap_err().to_string();
        assert!(long.contains("600 s"), "{long}");
    }
}
