//! The motions obey mechanics and hold the events they are named after.

use sample_clips_generator::Params;
use sample_clips_generator::contact::{self, PARTS};
use sample_clips_generator::figure::V3;
use sample_clips_generator::measure::{self, angles};
use sample_clips_generator::motions::{ALL, Staged, stage};
use sample_clips_generator::scene::Shape;

fn staged(name: &str) -> Staged {
    stage(name, &Params::default()).unwrap()
}

fn instants(s: &Staged, step: f64) -> impl Iterator<Item = f64> {
    let count = (s.take.duration() / step) as usize;
    (0..=count).map(move |k| k as f64 * step)
}

/// 22 m/s is faster than any joint of a child on a bar; a jump of 2 cm between looks would exceed it.
#[test]
fn no_joint_jumps() {
    for motion in ALL {
        let s = staged(motion.name);
        let mut before = s.take.skeleton(0.0);
        for t in instants(&s, 0.001).skip(1) {
            let now = s.take.skeleton(t);
            for ((name, a), (_, b)) in before.named().iter().zip(now.named()) {
                let speed = (b - a).norm() / 0.001;
                assert!(speed < 22.0, "{}: {name} moves at {speed:.1} m/s at {t:.3}", motion.name);
            }
            before = now;
        }
    }
}

#[test]
fn nothing_sinks_into_mats_or_floor() {
    for motion in ALL {
        let s = staged(motion.name);
        for t in instants(&s, 0.004) {
            let k = s.take.skeleton(t);
            let body = k.named().into_iter().filter(|(n, _)| !n.ends_with("tips"));
            for (name, p) in body.chain([("com".to_owned(), k.centre_of_mass())]) {
                assert!(p.z > -0.005, "{}: {name} is under the floor at {t:.3}", motion.name);
                for solid in s.scene.solids.iter().filter(|s| matches!(s.shape, Shape::Block(..))) {
                    let deep = -solid.distance(p);
                    let on = solid.name;
                    assert!(deep < 0.012, "{}: {name} {deep:.3} m in {on} at {t:.3}", motion.name);
                }
            }
        }
    }
}

/// Standard gravity by the General Conference on Weights and Measures, 1901: 9.80665 m/s².
#[test]
fn flights_fall_with_gravity() {
    for motion in ALL {
        let s = staged(motion.name);
        let step = 0.01;
        let mut flying = 0;
        for t in instants(&s, step) {
            let free =
                |t: f64| contact::touches(&s.take.skeleton(t), &s.scene) == [""; PARTS.len()];
            // Running steps are too short to count and are keyed.
            if t < 0.15 || ![-0.12, -0.06, 0.0, 0.06, 0.12].iter().all(|d| free(t + d)) {
                continue;
            }
            let at = |t: f64| s.take.skeleton(t).centre_of_mass();
            let fall = (at(t + step) + at(t - step) - at(t) * 2.0) / (step * step);
            let off = (fall + V3::new(0.0, 0.0, 9.806_65)).norm();
            assert!(off < 0.05, "{}: {off:.2} m/s² off at {t:.2}", motion.name);
            flying += 1;
        }
        let name = motion.name;
        let flies = !matches!(name, "turn-half" | "turn-beam" | "beam-kick" | "beam-handstand");
        assert_eq!(flying > 0, flies, "{name}");
    }
}

/// A flight's first speed is what the body had when it let go, as near as an eye can tell.
#[test]
fn speeds_fit_where_a_flight_begins() {
    for motion in ALL {
        let s = staged(motion.name);
        for seam in s.take.seams() {
            let free = |t: f64| contact::flying(&contact::touches(&s.take.skeleton(t), &s.scene));
            if free(seam.at + 0.02) && !free(seam.at - 0.02) && free(seam.at + 0.15) {
                let jump = (seam.after - seam.before).norm();
                assert!(jump < 2.6, "{}: {seam:.2?} jump {jump:.2}", motion.name);
            }
        }
    }
}

#[test]
fn a_leap_is_as_wide_as_asked_for() {
    for peak in [110.0, 120.0, 135.0, 180.0] {
        let s = stage("beam-leap", &Params { peak: Some(peak), turn: None }).unwrap();
        let widest =
            instants(&s, 0.001).map(|t| measure::split(&s.take.skeleton(t))).fold(0.0, f64::max);
        assert!((widest - peak).abs() < 0.01, "{widest} for {peak}");
    }
}

#[test]
fn a_kick_is_as_high_as_asked_for() {
    for peak in [40.0, 45.0, 60.0] {
        let s = stage("beam-kick", &Params { peak: Some(peak), turn: None }).unwrap();
        let highest = instants(&s, 0.001)
            .map(|t| angles(&s.take.skeleton(t), &s.scene).kick[1])
            .fold(0.0, f64::max);
        assert!((highest - peak).abs() < 0.01, "{highest} for {peak}");
    }
}

/// The trade's case: the heels reach the line, the hips do not, so the cast falls short.
#[test]
fn the_short_cast_has_heels_above_and_hips_below_the_line() {
    let best = |name| {
        let s = staged(name);
        let hanging = |t: &f64| {
            let k = s.take.skeleton(*t);
            k.neck.z > k.hands().z && contact::hands_only(&contact::touches(&k, &s.scene))
        };
        instants(&s, 0.002)
            .take_while(|t| *t < 5.5)
            .filter(hanging)
            .map(|t| angles(&s.take.skeleton(t), &s.scene).body_line)
            .max_by(|a, b| a.lowest().total_cmp(&b.lowest()))
            .unwrap()
    };
    let short = best("bars-routine");
    assert!(short.heel > 3.0 && short.hip < -3.0, "{short:?}");
    let clean = best("bars-routine-clean");
    assert!(clean.lowest() > 10.0, "{clean:?}");
}
