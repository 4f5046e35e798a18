use std::num::NonZeroU32;

use serde::{Deserialize, Deserializer, Serialize, Serializer, de};

/// A presentation time in ticks of the clip's [`TimeBase`]; zero is the first shown frame.
///
/// Times are integers so that the same frame is found again however often a file is saved.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
#[serde(transparent)]
pub struct Ticks(pub i64);

/// The length of one tick in seconds, as a fraction.
///
/// Written to files as `[numerator, denominator]`, for example `[1, 90000]`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct TimeBase {
    numerator: NonZeroU32,
    denominator: NonZeroU32,
}

impl TimeBase {
    /// A tick of a millionth of a second.
    pub(crate) const MILLIONTHS: Self =
        Self { numerator: NonZeroU32::MIN, denominator: NonZeroU32::new(1_000_000).unwrap() };

    /// Returns how a length compares with a limit in milliseconds, without a float.
    pub(crate) fn compare(self, length: Ticks, milliseconds: i64) -> std::cmp::Ordering {
        let [numerator, denominator] = self.parts().map(i128::from);
        let length = i128::from(length.0) * numerator * 1000;
        length.cmp(&(i128::from(milliseconds) * denominator))
    }

    /// Returns the time base `numerator / denominator` seconds, or nothing where one is zero.
    pub fn new(numerator: u32, denominator: u32) -> Option<Self> {
        Some(Self {
            numerator: NonZeroU32::new(numerator)?,
            denominator: NonZeroU32::new(denominator)?,
        })
    }

    /// Returns the numerator and the denominator.
    pub fn parts(self) -> [u32; 2] {
        [self.numerator.get(), self.denominator.get()]
    }

    /// Returns `ticks` in ticks of another time base, rounded down and up.
    pub(crate) fn in_base(self, ticks: Ticks, other: Self) -> [Ticks; 2] {
        let [numerator, denominator] = self.parts().map(i128::from);
        let [other_numerator, other_denominator] = other.parts().map(i128::from);
        let scaled = i128::from(ticks.0) * numerator * other_denominator;
        let by = denominator * other_numerator;
        let down = scaled.div_euclid(by);
        let up = down + i128::from(scaled.rem_euclid(by) > 0);
        [down, up].map(|ticks| Ticks(ticks.clamp(i64::MIN.into(), i64::MAX.into()) as i64))
    }

    /// Returns the last tick within whole seconds, before zero too.
    pub fn ticks_of_seconds(self, seconds: i64) -> Ticks {
        let [numerator, denominator] = self.parts().map(i128::from);
        let ticks = (i128::from(seconds) * denominator).div_euclid(numerator);
        Ticks(ticks.clamp(i64::MIN.into(), i64::MAX.into()) as i64)
    }

    /// Returns `ticks` in seconds, for showing and for clocks; never to be turned back into ticks
    /// where exactness counts.
    pub fn seconds(self, ticks: Ticks) -> f64 {
        ticks.0 as f64 * f64::from(self.numerator.get()) / f64::from(self.denominator.get())
    }

    /// Returns the last tick at or before `seconds`.
    pub fn ticks_at(self, seconds: f64) -> Ticks {
        let exact = seconds * f64::from(self.denominator.get()) / f64::from(self.numerator.get());
        // A time that was printed from a tick must find that tick again although the decimal
        // fraction lies a hair below it.
        Ticks((exact + 1e-6).floor() as i64)
    }
}

impl Serialize for TimeBase {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.parts().serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for TimeBase {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let [numerator, denominator] = <[u32; 2]>::deserialize(deserializer)?;
        Self::new(numerator, denominator)
            .ok_or_else(|| de::Error::custom("a time base has no zero in it"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_printed_time_finds_its_tick_again() {
        let ntsc = TimeBase::new(1001, 60000).unwrap();
        for tick in 0..2000 {
            let printed: f64 = format!("{:.6}", ntsc.seconds(Ticks(tick))).parse().unwrap();
            let found = ntsc.ticks_at(printed + 5e-7);
            assert_eq!(found, Ticks(tick));
        }
    }

    /// 1001/60000 s is 1501.5 ticks of 1/90000 s: by hand.
    #[test]
    fn ticks_become_other_ticks_without_a_float() {
        let [ntsc, fine] = [(1001, 60000), (1, 90000)].map(|(n, d)| TimeBase::new(n, d).unwrap());
        assert_eq!(ntsc.in_base(Ticks(1), fine), [Ticks(1501), Ticks(1502)]);
        assert_eq!(ntsc.in_base(Ticks(2), fine), [Ticks(3003), Ticks(3003)]);
        assert_eq!(ntsc.in_base(Ticks(-1), fine), [Ticks(-1502), Ticks(-1501)]);
        assert_eq!(fine.in_base(Ticks(i64::MAX), ntsc)[0].0, 6_142_771_919_317_200);
    }

    /// 30000/1001 is 29.97: by hand.
    #[test]
    fn whole_seconds_become_ticks_without_a_float() {
        let [ntsc, fine] = [(1001, 30000), (1, 90000)].map(|(n, d)| TimeBase::new(n, d).unwrap());
        let of = |base: TimeBase| [1, -1, 1001].map(|seconds| base.ticks_of_seconds(seconds).0);
        assert_eq!(of(ntsc), [29, -30, 30_000]);
        assert_eq!(of(fine), [90_000, -90_000, 90_090_000]);
    }

    #[test]
    fn zero_is_no_time_base() {
        assert!(TimeBase::new(0, 1).is_none());
        assert!(serde_json::from_str::<TimeBase>("[1,0]").is_err());
        let base: TimeBase = serde_json::from_str("[1,90000]").unwrap();
        assert_eq!(base.parts(), [1, 90000]);
    }
}
