//! What is expected follows from how the stamps were made, never from what came out.

use proptest::{collection::vec, prelude::*};

use super::*;
use TimeSource::{Assumed, Given, Joined};

/// The usual length of a frame in what is made here, also where frames are only counted.
const STEP: i64 = 100;

fn mended(stamps: &[Option<i64>], turn: Option<i64>) -> Vec<(i64, TimeSource)> {
    let counted: Vec<i64> = (0..stamps.len() as i64).map(|k| STEP * k).collect();
    let times = mend(Line { stamps, counted: &counted, turn });
    times.into_iter().map(|(Ticks(time), source)| (time, source)).collect()
}

fn mended_all(stamps: &[i64]) -> Vec<(i64, TimeSource)> {
    mended(&stamps.iter().copied().map(Some).collect::<Vec<_>>(), None)
}

/// Stamps from `start` on with these steps.
fn rising(start: i64, steps: &[i64]) -> Vec<i64> {
    let mut stamps = vec![start];
    stamps.extend(steps.iter().scan(start, |at, step| {
        *at += step;
        Some(*at)
    }));
    stamps
}

fn all_given(stamps: &[i64]) -> Vec<(i64, TimeSource)> {
    stamps.iter().map(|stamp| (stamp - stamps[0], Given)).collect()
}

/// A coarse clock rounds steps up and down.
fn even() -> impl Strategy<Value = i64> {
    STEP - 1..=STEP + 1
}

/// Of a frame rate that changes, with gaps in the recording.
fn uneven() -> impl Strategy<Value = i64> {
    prop_oneof![8 => 1..2 * STEP, 1 => 10 * STEP..1_000_000 * STEP]
}

/// Stamps of which none can be believed.
fn anything() -> impl Strategy<Value = Option<i64>> {
    prop_oneof![
        8 => (-20..20 * STEP).prop_map(Some),
        1 => any::<i64>().prop_map(Some),
        2 => Just(None),
    ]
}

/// A clip in which everything goes wrong somewhere.
fn messy() -> impl Strategy<Value = Vec<Option<i64>>> {
    let piece = (any::<i32>(), vec((even(), 0..20_u8, -900..900_i64), 1..60));
    vec(piece, 1..4).prop_map(|pieces| {
        let piece = |(start, frames): (i32, Vec<(i64, u8, i64)>)| {
            frames.into_iter().scan(i64::from(start), |at, (step, fault, by)| {
                *at += step;
                Some(match fault {
                    0 => None,
                    1 => Some(*at + by),
                    _ => Some(*at),
                })
            })
        };
        pieces.into_iter().flat_map(piece).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..Default::default() })]

    #[test]
    fn stamps_that_rise_are_kept(start in -1_000_000..1_000_000_i64, steps in vec(uneven(), 0..200)) {
        let stamps = rising(start, &steps);
        prop_assert_eq!(mended_all(&stamps), all_given(&stamps));
    }

    #[test]
    fn time_never_runs_back(stamps in vec(anything(), 0..80), turn in prop::option::of(2..90_000_i64)) {
        let times = mended(&stamps, turn);
        prop_assert_eq!(times.len(), stamps.len());
        prop_assert!(times.first().is_none_or(|(time, _)| *time == 0));
        prop_assert!(times.is_sorted_by_key(|(time, _)| *time), "{:?}", times);
    }

    /// Two frames share an instant only where their stamps do, or where those around leave no room.
    #[test]
    fn frames_that_have_room_share_no_instant(stamps in messy()) {
        let times = mended(&stamps, None);
        for k in 1..times.len() {
            let has_stamp_of_its_own = stamps[k] != stamps[k - 1] || times[k].1 != Given;
            if times[k].0 == times[k - 1].0 && has_stamp_of_its_own {
                let room = |n: usize| times[n].0 - times[k - 1].0;
                let is_crowded = (k..times.len()).any(|n| room(n) < (n - k + 1) as i64 && times[n].1 == Given);
                prop_assert!(is_crowded, "frame {} of {:?}", k, times);
            }
        }
    }

    /// Of what was read, each frame with so many stamps behind it stays where it is. The others may
    /// move: whether a frame is out of order, only what comes next can tell.
    #[test]
    fn reading_on_moves_no_frame(stamps in messy(), part in 0.0..1.0_f64) {
        let read = (stamps.len() as f64 * part) as usize;
        let behind = |k: usize| stamps[k + 1..read].iter().flatten().count();
        let settled = (0..read).take_while(|&k| behind(k) >= REACH).count();
        let (whole, beginning) = (mended(&stamps, None), mended(&stamps[..read], None));
        prop_assert_eq!(&whole[..settled], &beginning[..settled]);
    }

    #[test]
    fn joined_clips_keep_their_steps(
        [first, second] in [vec(even(), 2..80), vec(even(), 2..80)],
        start in -1_000_000..1_000_000_i64,
        back in 3 * STEP..1_000_000,
    ) {
        let first = rising(start, &first);
        let end = first[first.len() - 1];
        let second = rising(end - back, &second);
        let times = mended_all(&[first.clone(), second.clone()].concat());
        prop_assert_eq!(&times[..first.len()], all_given(&first));
        let (at, source) = times[first.len()];
        // As long as the first one's frames.
        prop_assert!(source == Joined && (at - (end - start) - STEP).abs() <= 1, "{:?}", times);
        let steps = second.iter().map(|stamp| (stamp - second[0] + at, Given));
        prop_assert_eq!(&times[first.len() + 1..], &steps.collect::<Vec<_>>()[1..]);
    }

    /// However uneven, where the second begins before all of the first.
    #[test]
    fn uneven_joined_clips_keep_their_steps(
        [first, second] in [vec(uneven(), 2..40), vec(uneven(), 2..40)],
        back in 1..1_000_000_i64,
    ) {
        let first = rising(0, &first);
        let length: i64 = second.iter().sum();
        let second = rising(-back - length, &second);
        let times = mended_all(&[first.clone(), second.clone()].concat());
        prop_assert_eq!(&times[..first.len()], all_given(&first));
        let (at, source) = times[first.len()];
        prop_assert!(source == Joined && at > first[first.len() - 1], "{:?}", times);
        let steps = second.iter().map(|stamp| (stamp - second[0] + at, Given));
        prop_assert_eq!(&times[first.len() + 1..], &steps.collect::<Vec<_>>()[1..]);
    }

    #[test]
    fn a_lone_stamp_out_of_order_changes_only_itself(
        steps in vec(even(), 6..80),
        place in 0.0..1.0_f64,
        off in 1..1_000_000_000_i64,
        ahead in any::<bool>(),
    ) {
        let stamps = rising(0, &steps);
        // The first has none before it, the last none behind it that could tell.
        let k = 1 + ((stamps.len() - 2) as f64 * place) as usize;
        let mut wrong = stamps.clone();
        wrong[k] = if ahead { stamps[k + 1] + off } else { stamps[k - 1] - off };
        let times = mended_all(&wrong);
        let mut expected = all_given(&stamps);
        expected[k] = times[k];
        prop_assert_eq!(&times, &expected);
        prop_assert!(times[k].1 == Assumed && (times[k].0 - stamps[k]).abs() <= 1, "{:?}", times);
    }

    /// Whatever the frame rate does around it.
    #[test]
    fn a_lone_stamp_far_out_of_order_changes_only_itself(
        steps in vec(1..1000_i64, 6..80),
        place in 0.0..1.0_f64,
        off in 1..1_000_000_000_i64,
        ahead in any::<bool>(),
    ) {
        let stamps = rising(0, &steps);
        let k = 2 + ((stamps.len() - 4) as f64 * place) as usize;
        let mut wrong = stamps.clone();
        wrong[k] = if ahead { stamps[k + 2] + off } else { stamps[k - 2] - off };
        let times = mended_all(&wrong);
        let mut expected = all_given(&stamps);
        expected[k] = times[k];
        prop_assert_eq!(&times, &expected);
        let between = (expected[k - 1].0..=expected[k + 1].0).contains(&times[k].0);
        prop_assert!(times[k].1 == Assumed && between, "{:?}", times);
    }

    /// As with the 33 bits of a clock in MPEG streams, whatever a reader has added or left out; what
    /// is looked ahead takes less than half a turn.
    #[test]
    fn a_clock_that_begins_again_goes_on(
        start in 0..1_000_000_i64,
        steps in vec(1..30_000_i64, 1..80),
        turns in vec(-2..3_i64, 81),
    ) {
        let turn = 1_000_000;
        let stamps = rising(start, &steps);
        let turned = stamps.iter().zip(turns).map(|(stamp, turns)| Some(stamp + turns * turn));
        prop_assert_eq!(mended(&turned.collect::<Vec<_>>(), Some(turn)), all_given(&stamps));
    }

    #[test]
    fn missing_stamps_are_filled(there in vec(any::<bool>(), 1..120), start in -9_000..9_000_i64) {
        let stamps = (0..).zip(&there).map(|(k, there)| there.then_some(start + STEP * k));
        let source = |there: &bool| if *there { Given } else { Assumed };
        let expected: Vec<_> = (0..).zip(&there).map(|(k, there)| (STEP * k, source(there))).collect();
        prop_assert_eq!(mended(&stamps.collect::<Vec<_>>(), None), expected);
    }
}

/// Every case by hand.
#[test]
fn what_cannot_be_true_is_mended_where_it_is() {
    let times = |stamps: &[i64]| {
        let times = mended_all(stamps).into_iter();
        let sign = |source| match source {
            Given => "",
            Joined => "j",
            Assumed => "a",
        };
        times.map(|(time, source)| format!("{time}{}", sign(source))).collect::<Vec<_>>().join(" ")
    };
    for (stamps, expected, why) in [
        (&[0, 100, 100, 200][..], "0 100 100 200", "two frames at one instant"),
        (&[0, 100, 900, 1000], "0 100 900 1000", "a gap in the recording"),
        (&[0, 100, 900, 50], "0 100 900 1000a", "the last one, which nothing follows"),
        (&[900, 0, 100, 200], "0 100j 200 300", "the first one is wrong, or a clip of its own"),
        (&[0, 100, 800, 900, 400, 500], "0 100 200a 300a 400 500", "two in a row"),
        (&[0, 100, 200, -40, -30, 500], "0 100 200 300a 400a 500", "two in a row, before"),
        (&[0, 100, 300, 200, 400], "0 100 300 350a 400", "two exchanged"),
        (&[0, 100, 200, 120, 220, 320], "0 100 200 300j 400 500", "back by less than a frame"),
        (&[500, 400, 300, 200, 100, 200], "0 100a 200a 300a 400j 500", "a clock that runs back"),
        (&[0, 10, 20, 5_000, 30, 40], "0 10 20 25a 30 40", "more frames a second than stated"),
    ] {
        assert_eq!(times(stamps), expected, "{why}");
    }
}

#[test]
fn a_gap_stretches_no_frame() {
    let stamps = [Some(0), Some(100), Some(200), None, Some(9000), Some(9100)];
    let times = mended(&stamps, None);
    assert_eq!(times[3..5], [(300, Assumed), (9000, Given)]);
}

#[test]
fn stamps_at_the_ends_of_all_numbers_are_taken() {
    let times = mended_all(&[i64::MIN, 0, i64::MAX, i64::MIN]);
    assert!(times.is_sorted_by_key(|(time, _)| *time), "{times:?}");
}
