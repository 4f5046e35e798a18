//! Which instant of one clip belongs to which instant of the other.

use super::{Ticks, TimeBase};

/// An instant of a clip, in ticks of its time base.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instant {
    /// When.
    pub ticks: Ticks,
    /// Length of a tick.
    pub base: TimeBase,
}

/// Returns the instant that lies as far from the tie `to` as `at` lies from the tie `from`,
/// rounded to the nearest tick of the clip of `to`. `at` is in ticks of the clip of `from`.
///
/// Without a float: two frames of the same instant stay together for hours.
pub fn across(at: Ticks, from: Instant, to: Instant) -> Ticks {
    let apart = at.0.saturating_sub(from.ticks.0);
    let [twice, _] = from.base.in_base(Ticks(apart.saturating_mul(2)), to.base);
    Ticks(to.ticks.0.saturating_add(twice.0.saturating_add(1).div_euclid(2)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(ticks: i64, base: (u32, u32)) -> Instant {
        Instant { ticks: Ticks(ticks), base: TimeBase::new(base.0, base.1).unwrap() }
    }

    #[test]
    fn a_second_is_a_second_in_either_clip() {
        let (slow, fine) = (at(10, (1, 25)), at(90_000, (1, 90_000)));
        // 50 frames of 25 a second are two seconds.
        assert_eq!(across(Ticks(60), slow, fine), Ticks(270_000));
        assert_eq!(across(Ticks(270_000), fine, slow), Ticks(60));
        assert_eq!(across(Ticks(0), slow, fine), Ticks(54_000), "and before the tie");
    }

    /// A clip whose tick is a whole frame must not lag a frame behind for half a microsecond.
    #[test]
    fn between_two_ticks_the_nearer_one_is_meant() {
        let (fine, coarse) = (at(0, (1, 90_000)), at(0, (1, 25)));
        assert_eq!(across(Ticks(3_599), fine, coarse), Ticks(1));
        assert_eq!(across(Ticks(1_799), fine, coarse), Ticks(0));
        assert_eq!(across(Ticks(-3_599), fine, coarse), Ticks(-1));
    }

    /// 240 frames of 59.94 a second last 4.004 s, and after ten thousand times as long it still
    /// fits to the tick.
    #[test]
    fn it_does_not_drift() {
        let (ntsc, fine) = (at(0, (1001, 60_000)), at(0, (1, 90_000)));
        assert_eq!(across(Ticks(240), ntsc, fine), Ticks(360_360));
        assert_eq!(across(Ticks(2_400_000), ntsc, fine), Ticks(3_603_600_000));
    }
}
