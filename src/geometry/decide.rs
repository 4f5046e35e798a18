//! Whether a reading meets a limit, after JCGM 106: by the probability that the true value does.

use serde::{Deserialize, Serialize};
use statrs::function::erf::erfc;

use crate::units::Magnitude;

/// From this probability on a limit is clearly met.
pub(crate) const CLEAR: f64 = 0.975;
/// Up to this probability a limit is clearly not met.
pub(crate) const NOT_MET: f64 = 0.025;
/// Half the width of the 95 % interval in standard uncertainties, the quantile of `CLEAR`.
pub const HALF_WIDTH: f64 = 1.959_963_984_540_054;

/// On which side of its edge a limit is met, and whether the edge itself meets it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// At the edge or above it.
    AtLeast,
    /// Above the edge, not at it.
    Above,
    /// At the edge or below it.
    AtMost,
    /// Below the edge, not at it.
    Below,
}

impl Side {
    /// Returns whether larger values are the good ones.
    pub const fn upward(self) -> bool {
        matches!(self, Self::AtLeast | Self::Above)
    }

    /// Returns the words that go before the edge: `at least`, `above`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::AtLeast => "at least",
            Self::Above => "above",
            Self::AtMost => "at most",
            Self::Below => "below",
        }
    }
}

/// A value in degrees that a reading is held against.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Where the limit lies.
    pub edge: Magnitude,
    /// On which side it is met.
    pub side: Side,
}

impl Limit {
    /// Returns whether exactly this value meets the limit.
    pub fn holds(self, value: Magnitude) -> bool {
        match self.side {
            Side::AtLeast => value >= self.edge,
            Side::Above => value > self.edge,
            Side::AtMost => value <= self.edge,
            Side::Below => value < self.edge,
        }
    }
}

/// What a reading says of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Clearly met.
    Clear,
    /// Clearly not met.
    NotMet,
    /// The reading leaves it open.
    Close,
}

impl Verdict {
    /// Returns it as a sign and a word, readable without colours.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Clear => "✓ met",
            Self::NotMet => "✗ not met",
            Self::Close => "≈ close call",
        }
    }
}

/// Returns the probability that the true value meets the limit, for a normal error of standard
/// uncertainty `u`; with `u` zero the value is taken as exact.
pub fn conformance(value: Magnitude, u: Magnitude, limit: Limit) -> f64 {
    if u.0 <= 0.0 {
        return if limit.holds(value) { 1.0 } else { 0.0 };
    }
    let z = (value.0 - limit.edge.0) / u.0;
    normal_cdf(if limit.side.upward() { z } else { -z })
}

/// Returns the probability that the true value lies between two limits, both included.
pub fn conformance_between(value: Magnitude, u: Magnitude, low: Magnitude, high: Magnitude) -> f64 {
    let below_high = conformance(value, u, Limit { edge: high, side: Side::AtMost });
    let below_low = conformance(value, u, Limit { edge: low, side: Side::Below });
    below_high - below_low
}

/// Returns whether a reading clearly meets a limit, clearly does not, or leaves it open.
pub fn decide(value: Magnitude, u: Magnitude, limit: Limit) -> Verdict {
    let p = conformance(value, u, limit);
    if p >= CLEAR {
        Verdict::Clear
    } else if p <= NOT_MET {
        Verdict::NotMet
    } else {
        Verdict::Close
    }
}

/// Returns what a value inside its 95 % interval says of a limit: open exactly when the limit's
/// edge lies inside. An interval may reach farther to one side than to the other.
pub(crate) fn decide_between(
    value: Magnitude,
    [low, high]: [Magnitude; 2],
    limit: Limit,
) -> Verdict {
    let reach = if limit.edge < value { value.0 - low.0 } else { high.0 - value.0 };
    decide(value, Magnitude(reach / HALF_WIDTH), limit)
}

fn normal_cdf(z: f64) -> f64 {
    0.5 * erfc(-z / std::f64::consts::SQRT_2)
}
