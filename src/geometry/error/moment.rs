//! What time does to an angle: the instant that lies between frames, the peak between frames,
//! the smear of one exposure.

use crate::units::Degrees;

/// Returns the degrees turned in `seconds` at `speed` degrees per second.
pub fn turned(speed: Degrees, seconds: f64) -> Degrees {
    Degrees(speed.0 * seconds)
}

/// Returns the standard uncertainty of an angle read at an instant that may lie anywhere within
/// `seconds`: a rectangular distribution, JCGM 100 clause 4.3.7.
pub fn instant(speed: Degrees, seconds: f64) -> Degrees {
    Degrees((speed.0 * seconds).abs() / 12_f64.sqrt())
}

/// Returns the standard uncertainty of reading somewhere in a limb smeared over an exposure.
pub fn blur(speed: Degrees, exposure_seconds: f64) -> Degrees {
    instant(speed, exposure_seconds)
}

/// The largest angle on a parabola through three frames.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// When it is reached, in the time of the frames.
    pub seconds: f64,
    /// The angle there.
    pub value: f64,
}

/// Returns the peak of the parabola through three frames in order of time, which need not be
/// equally far apart; nothing where the three do not rise and fall.
pub fn peak(seconds: [f64; 3], values: [f64; 3]) -> Option<Peak> {
    let [before, after] = [seconds[0] - seconds[1], seconds[2] - seconds[1]];
    if before >= 0.0 || after <= 0.0 {
        return None;
    }
    let [rise, fall] = [values[0] - values[1], values[2] - values[1]];
    // values[1] + slope * t + bend * t^2 with t from the middle frame on.
    let bend = (rise / before - fall / after) / (before - after);
    let slope = rise / before - bend * before;
    let at = -slope / (2.0 * bend);
    if bend >= 0.0 || !at.is_finite() || at < before || at > after {
        return None;
    }
    Some(Peak { seconds: seconds[1] + at, value: values[1] + slope * at / 2.0 })
}

/// Returns how far the middle angle lies above the line through its neighbours: what tells a
/// peak from noise.
pub fn height(seconds: [f64; 3], values: [f64; 3]) -> f64 {
    let share = (seconds[1] - seconds[0]) / (seconds[2] - seconds[0]);
    values[1] - (values[0] + share * (values[2] - values[0]))
}

/// So many standard uncertainties the height of a peak must have before a parabola is trusted:
/// on near-flat frames it is unstable.
pub(crate) const SURE_PEAK: f64 = 3.0;
