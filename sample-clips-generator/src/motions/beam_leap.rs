//! A split leap on the beam, its widest split as asked for.

use super::Staged;
use super::stances::{beam_camera, on_beam};
use super::steps::Gait;
use crate::figure::body::HIP_HEIGHT;
use crate::figure::{Foot, Hold, Root, Script};
use crate::options::Params;
use crate::scene::{BEAM, Scene};

/// Steps along a beam: slow, upright, arms out.
pub(super) const STEPS: Gait = Gait {
    length: 0.56,
    time: 0.40,
    down: 0.85,
    hips: 0.695,
    lift: 38.0,
    fold: 40.0,
    lean: 3.0,
    arms: (14.0, 72.0, 4.0),
    aside: 0.012,
    top: BEAM,
};

/// A leap from the left foot with the right leg in front.
pub(super) fn leap(params: &Params) -> Staged {
    let split = params.peak.unwrap_or(120.0).clamp(20.0, 200.0);
    let mut s = on_beam(-2.0);
    STEPS.step(&mut s, 1, -1.94);
    take_off(&mut s, -1.94 + STEPS.length);
    fly(&mut s, -1.94 + STEPS.length, split);
    come_down(&mut s);
    Staged { take: s.take(), scene: Scene::beam(), camera: beam_camera() }
}

/// Presses off the left foot, hips at `x`.
fn take_off(s: &mut Script, x: f64) {
    s.hold(Hold::new(Root::Free).feet([STEPS.plant(0, x + 0.20), Foot::Free]).ease(0.1).over(BEAM));
    s.key(0.18, |p| {
        p.at = [x + 0.18, 0.0, BEAM + 0.62];
        p.pitch = 4.0;
        p.one_leg(1, 5.0, 40.0).points(50.0).heels(0.0);
        p.arms(15.0, 60.0, 6.0);
    });
    s.key(0.17, |p| {
        p.at = [x + 0.44, 0.0, BEAM + 0.755];
        p.pitch = 4.0;
        p.one_leg(1, 52.0, 8.0).one_leg(0, -24.0, 0.0).points(70.0).heels(50.0);
        p.arms(40.0, 80.0, 4.0);
    });
}

/// Flies from hips at about `x`; the keyed place only leads the speeds at both ends.
fn fly(s: &mut Script, x: f64, split: f64) {
    s.hold(Hold::new(Root::Flight).ease(0.1).over(BEAM));
    s.key(0.23, |p| {
        p.at = [x + 0.95, 0.0, BEAM + 1.2];
        p.pitch = 2.0;
        p.one_leg(1, split / 2.0 + 4.0, 0.0).one_leg(0, 4.0 - split / 2.0, 0.0).points(78.0);
        p.arms(70.0, 78.0, 2.0);
    });
    s.key(0.23, |p| {
        p.at = [0.02, 0.0, BEAM + 0.70];
        p.pitch = 3.0;
        p.one_leg(1, 22.0, 10.0).one_leg(0, -38.0, 10.0).points(40.0).heels(14.0);
    });
}

fn come_down(s: &mut Script) {
    let x = 0.02;
    s.hold(Hold::new(Root::Free).feet([Foot::Free, STEPS.plant(1, x + 0.20)]).ease(0.1).over(BEAM));
    s.key(0.16, |p| {
        p.at = [x + 0.12, 0.0, BEAM + 0.63];
        p.pitch = 7.0;
        p.one_leg(0, -26.0, 20.0).points(50.0).heels(0.0);
        p.arms(40.0, 76.0, 4.0);
    });
    s.key(0.30, |p| {
        p.at = [x + 0.16, 0.0, BEAM + 0.69];
        p.pitch = 2.0;
        p.one_leg(0, 4.0, 36.0);
    });
    s.key(0.30, |p| {
        p.at = [x + 0.32, 0.0, BEAM + 0.70];
        p.one_leg(0, 24.0, 10.0);
    });
    s.hold(Hold::new(Root::Free).feet([STEPS.plant(0, x + 0.52), STEPS.plant(1, x + 0.20)]));
    s.key(0.4, |p| {
        p.at = [x + 0.38, 0.0, BEAM + HIP_HEIGHT - 0.03];
        p.pitch = 0.0;
        p.arms(20.0, 110.0, 2.0);
    });
    s.rest(0.5);
}
