//! When each frame is shown.

use crate::options::{Options, Timing};

/// The time stamps of a clip.
#[derive(Clone, Debug, PartialEq)]
pub struct Clock {
    /// Ticks per second in the file.
    pub file_rate: u32,
    /// Ticks per second towards the encoder.
    pub fine_rate: u32,
    /// The first frame's time stamp in fine ticks.
    pub start: i64,
    /// Fine ticks from a period's first frame to each of its frames.
    pub pattern: Vec<i64>,
    /// Fine ticks from one period to the next.
    pub period: i64,
}

/// How long frames last against the nominal time in twelfths, for uneven clips.
const UNEVEN: [i64; 11] = [12, 12, 8, 16, 12, 24, 12, 6, 18, 12, 13];

/// Ticks per second of uneven clips.
const FINE: u32 = 90_000;

/// The strip's sixteen cells can count no further.
const MOST_FRAMES: usize = 1 << 16;

/// Ticks per second of Matroska files.
const MATROSKA: u32 = 1000;

impl Clock {
    /// Returns the clock that `options` ask for.
    pub fn new(options: &Options) -> Self {
        let (n, d) = options.rate;
        let matroska = options.out.extension().is_some_and(|e| e.eq_ignore_ascii_case("mkv"));
        let times = 10_000u32.div_ceil(n);
        let (fine_rate, pattern, period) = match options.timing {
            Timing::Even => (n * times, vec![0], i64::from(d * times)),
            Timing::Uneven => {
                let twelfth = |v: i64| v * i64::from(FINE) * i64::from(d) / (12 * i64::from(n));
                let pattern =
                    (0..UNEVEN.len()).map(|k| twelfth(UNEVEN[..k].iter().sum())).collect();
                (FINE, pattern, twelfth(UNEVEN.iter().sum()))
            }
        };
        let file_rate = if matroska { MATROSKA } else { fine_rate };
        let start = options.start_at * i64::from(fine_rate) / i64::from(file_rate);
        Self { file_rate, fine_rate, start, pattern, period }
    }

    /// Returns frame `k`'s time stamp in ticks of the file.
    pub fn ticks(&self, k: usize) -> i64 {
        let size = self.pattern.len();
        let fine = self.start + (k / size) as i64 * self.period + self.pattern[k % size];
        let (file, rate) = (i64::from(self.file_rate), i64::from(self.fine_rate));
        // Halves away from zero, as multiplexers round.
        (fine * file * 2 + rate).div_euclid(rate * 2)
    }

    /// Returns frame `k`'s time stamp in seconds.
    pub fn seconds(&self, k: usize) -> f64 {
        self.ticks(k) as f64 / f64::from(self.file_rate)
    }

    /// Returns how many frames a motion of `duration` seconds has.
    pub fn frames(&self, duration: f64) -> usize {
        let start = self.seconds(0);
        let shown = |k: &usize| self.seconds(*k) - start <= duration + 1e-9;
        (0..MOST_FRAMES).take_while(shown).count()
    }

    /// Returns the expression that gives the encoder each frame's time stamp from its number N.
    pub fn expression(&self) -> String {
        let size = self.pattern.len();
        let steps = self.pattern.iter().enumerate().skip(1);
        let steps: Vec<String> =
            steps.map(|(k, ticks)| format!("+eq(mod(N,{size}),{k})*{ticks}")).collect();
        let steps = steps.concat();
        format!("{}+floor(N/{size})*{}{steps}", self.start, self.period)
    }
}
