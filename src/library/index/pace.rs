//! How fast whole clips are read, and how long the rest will take.

use std::time::{Duration, Instant};

/// A beginning, from which on it is timed.
#[derive(Clone, Copy, Debug)]
pub struct Pace(Instant);

impl Default for Pace {
    fn default() -> Self {
        Self(Instant::now())
    }
}

impl Pace {
    /// Returns how far it is and how long the rest will take: `1.2 of 3.4 GB, about 2 min left`.
    pub fn words(&self, done: u64, of: u64) -> String {
        let (unit, name) = UNITS.into_iter().find(|(unit, _)| of >= *unit).unwrap_or((1, "bytes"));
        let number = |bytes: u64| match unit {
            1 => bytes.to_string(),
            unit => format!("{:.1}", bytes as f64 / unit as f64),
        };
        let left = left(self.0.elapsed(), done, of).map(|left| format!(", {}", in_words(left)));
        format!("{} of {} {name}{}", number(done), number(of), left.unwrap_or_default())
    }
}

const UNITS: [(u64, &str); 3] = [(1_000_000_000, "GB"), (1_000_000, "MB"), (1_000, "kB")];

/// What the first moments say of the rest is worth nothing.
const WARM: Duration = Duration::from_secs(2);

fn left(elapsed: Duration, done: u64, of: u64) -> Option<Duration> {
    let is_known = elapsed >= WARM && done > 0;
    let rest = of.saturating_sub(done) as f64 / done as f64;
    is_known.then(|| Duration::try_from_secs_f64(elapsed.as_secs_f64() * rest).unwrap_or_default())
}

fn in_words(left: Duration) -> String {
    match left.as_secs().div_ceil(60) {
        0 | 1 => "less than a minute left".to_owned(),
        minutes if minutes < 60 => format!("about {minutes} min left"),
        minutes => format!("about {} h {} min left", minutes / 60, minutes % 60),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rest_takes_as_long_as_what_was_read() {
        let seconds = Duration::from_secs;
        assert_eq!(left(seconds(30), 100, 400), Some(seconds(90)));
        assert_eq!(left(seconds(1), 100, 400), None, "too early to tell");
        assert_eq!(left(seconds(30), 0, 400), None);
        let words = [45, 60, 61, 3599, 3600, 3661].map(|it| in_words(seconds(it)));
        let less = "less than a minute left";
        assert_eq!(words[..2], [less, less]);
        assert_eq!(words[2..4], ["about 2 min left", "about 1 h 0 min left"]);
        assert_eq!(words[4..], ["about 1 h 0 min left", "about 1 h 2 min left"]);
        assert_eq!(Pace::default().words(1_200_000_000, 3_400_000_000), "1.2 of 3.4 GB");
        assert_eq!(Pace::default().words(0, 999), "0 of 999 bytes");
    }
}
