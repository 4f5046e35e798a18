//! A short bars routine of easy elements.
//!
//! Common practice, no source, for the timing of swings: a tapped swing of a child takes about
//! 1.25 s from one end to the other.

use super::Staged;
use super::stances::{Spot, feet_at, finish, grips, hanging, land, standing};
use crate::camera::Camera;
use crate::figure::body::HIP_HALF;
use crate::figure::{Foot, Hold, Root, Script, V3};
use crate::options::Params;
use crate::scene::{HIGH_BAR, LOW_BAR, MAT, RAIL, Scene};

/// The cast's shape at its highest: trunk past upright, legs against trunk, arms behind vertical.
struct Cast {
    tip: f64,
    legs: f64,
    lean: f64,
}

/// The routine with the heels above horizontal and the hips below at the cast's peak.
pub(super) fn short(_: &Params) -> Staged {
    routine(&Cast { tip: 83.0, legs: -21.0, lean: 24.0 }, Some(0.28))
}

/// The routine with a cast clearly above horizontal and a stuck landing.
pub(super) fn clean(params: &Params) -> Staged {
    let above = params.peak.unwrap_or(20.0).clamp(-60.0, 85.0);
    routine(&Cast { tip: 90.0 + above, legs: -2.0, lean: 30.0 }, None)
}

fn routine(cast: &Cast, step: Option<f64>) -> Staged {
    let mut script = pull_over();
    swing_up(&mut script, cast);
    hip_circle(&mut script);
    squat_on(&mut script);
    jump_across(&mut script);
    swings(&mut script);
    dismount(&mut script, step);
    let camera = Camera { at: [-0.20, -7.6, 1.6], yaw: 4.1, pitch: -1.1, roll: 0.0, focal: 1600.0 };
    Staged { take: script.take(), scene: Scene::bars(), camera }
}

fn low() -> V3 {
    V3::from(LOW_BAR)
}

/// The body lies on the low bar with straight arms.
fn on_low() -> Hold {
    Hold::new(Root::Hips(low())).hands(grips(LOW_BAR))
}

fn pull_over() -> Script {
    let x = LOW_BAR[0];
    let feet = feet_at(x - 0.20, MAT);
    let stand = Hold::new(Root::Free).feet(feet).ease(0.45);
    let mut s = Script::new(standing(x - 0.29, MAT), stand);
    s.rest(0.35);
    s.key(0.6, |p| {
        p.arms(150.0, 0.0, 40.0);
    });
    s.hold(Hold::new(Root::Free).feet(feet).hands(grips(LOW_BAR)));
    s.rest(0.15);
    s.key(0.3, |p| {
        p.at = [x - 0.24, 0.0, MAT + 0.64];
        p.pitch = -4.0;
        p.legs(10.0, 40.0);
    });
    s.hold(Hold::new(Root::Free).feet([Foot::Free, feet[1]]).hands(grips(LOW_BAR)).over(MAT));
    s.key(0.10, |p| {
        p.at = [x - 0.23, 0.0, MAT + 0.69];
        p.pitch = -9.0;
        p.one_leg(0, 32.0, 46.0).one_leg(1, 2.0, 20.0);
    });
    s.key(0.15, |p| {
        p.at = [x - 0.22, 0.0, MAT + 0.75];
        p.pitch = -18.0;
        p.one_leg(0, 65.0, 12.0).one_leg(1, -5.0, 5.0).points(60.0);
    });
    s.hold(Hold::new(Root::Free).hands(grips(LOW_BAR)));
    s.key(0.3, |p| {
        p.at = [x - 0.05, 0.0, 1.42];
        p.pitch = -70.0;
        p.one_leg(0, 86.0, 4.0).one_leg(1, 58.0, 4.0).points(75.0);
        p.neck = 15.0;
    });
    s.hold(Hold::new(Root::Glide).hands(grips(LOW_BAR)));
    s.key(0.24, |p| {
        p.pitch = -125.0;
        p.legs(108.0, 0.0);
    });
    s.hold(on_low());
    s.key(0.34, |p| {
        p.pitch = -200.0;
        p.legs(96.0, 0.0);
    });
    s.key(0.38, |p| {
        p.pitch = -290.0;
        p.legs(48.0, 0.0);
        p.neck = 0.0;
    });
    s.key(0.42, |p| {
        p.pitch = -352.0;
        p.legs(-2.0, 0.0);
    });
    s.rest(0.3);
    s
}

/// Casts from front support at pitch -352 and comes back to the bar.
fn swing_up(s: &mut Script, cast: &Cast) {
    s.key(0.3, |p| {
        p.pitch = -338.0;
        p.legs(58.0, 0.0);
    });
    s.key(0.2, |p| {
        p.pitch = -332.0;
        p.legs(-6.0, 0.0);
        p.arms(12.0, 0.0, 0.0);
    });
    s.hold(Hold::new(Root::Glide).hands(grips(LOW_BAR)));
    s.key(0.14, |p| {
        p.pitch = -360.0 + cast.tip * 0.55;
        p.legs(cast.legs - 8.0, 0.0);
        p.arms(cast.tip * 0.55 - cast.lean * 0.8, 0.0, 0.0);
    });
    s.hold(hanging(LOW_BAR));
    s.key(0.34, |p| {
        p.pitch = -360.0 + cast.tip;
        p.legs(cast.legs, 0.0);
        p.arms(cast.tip - cast.lean, 0.0, 0.0);
    });
    s.key(0.30, |p| {
        p.pitch = -360.0 + cast.tip * 0.55;
        p.legs(0.0, 0.0);
        p.arms(cast.tip * 0.55 - cast.lean * 0.7, 0.0, 0.0);
    });
    s.hold(Hold::new(Root::Glide).hands(grips(LOW_BAR)));
    s.key(0.16, |p| {
        p.pitch = -350.0;
        p.legs(6.0, 0.0);
        p.arms(10.0, 0.0, 0.0);
    });
}

fn hip_circle(s: &mut Script) {
    s.hold(on_low());
    s.key(0.22, |p| {
        p.pitch = -420.0;
        p.legs(26.0, 0.0);
        p.neck = 12.0;
    });
    s.key(0.50, |p| {
        p.pitch = -620.0;
        p.legs(32.0, 0.0);
    });
    s.key(0.36, |p| {
        p.pitch = -708.0;
        p.legs(0.0, 0.0);
        p.neck = 0.0;
    });
    s.rest(0.2);
}

fn squat_on(s: &mut Script) {
    s.key(0.28, |p| {
        p.pitch = -697.0;
        p.legs(50.0, 0.0);
    });
    s.key(0.2, |p| {
        p.pitch = -690.0;
        p.legs(-4.0, 0.0);
        p.arms(14.0, 0.0, 0.0);
    });
    s.hold(Hold::new(Root::Glide).hands(grips(LOW_BAR)));
    s.key(0.16, |p| {
        p.pitch = -668.0;
        p.legs(-4.0, 4.0);
        p.arms(30.0, 0.0, 0.0);
    });
    s.hold(hanging(LOW_BAR));
    s.key(0.22, |p| {
        p.pitch = -646.0;
        p.legs(24.0, 50.0);
        p.arms(53.0, 0.0, 0.0);
    });
    s.key(0.16, |p| {
        p.pitch = -643.0;
        p.legs(105.0, 128.0);
        p.arms(57.0, 0.0, 0.0);
    });
    s.hold(Hold::new(Root::Glide).hands(grips(LOW_BAR)).ease(0.1));
    s.key(0.2, |p| {
        p.at = [LOW_BAR[0] - 0.20, 0.0, LOW_BAR[2] + 0.33];
        p.pitch = -656.0;
        p.legs(130.0, 132.0).points(30.0).heels(24.0);
    });
    s.hold(Hold::new(Root::Free).hands(grips(LOW_BAR)).feet(on_rail()));
    s.key(0.3, |p| {
        p.at = [LOW_BAR[0] - 0.18, 0.0, LOW_BAR[2] + 0.29];
        p.neck = -35.0;
    });
    s.rest(0.35);
}

fn on_rail() -> [Foot; 2] {
    let top = LOW_BAR[2] + RAIL;
    [1.0, -1.0].map(|side| Foot::Plant(V3::new(LOW_BAR[0], side * HIP_HALF, top), 0.0))
}

fn jump_across(s: &mut Script) {
    s.hold(Hold::new(Root::Free).feet(on_rail()).ease(0.2));
    s.key(0.26, |p| {
        p.at = [LOW_BAR[0] + 0.02, 0.0, LOW_BAR[2] + 0.40];
        p.pitch = -676.0;
        p.arms(105.0, 0.0, 14.0).heels(20.0);
    });
    s.key(0.22, |p| {
        p.at = [LOW_BAR[0] + 0.36, 0.0, LOW_BAR[2] + 0.62];
        p.pitch = -684.0;
        p.arms(140.0, 0.0, 0.0).legs(-6.0, 4.0).points(70.0).heels(60.0);
        p.neck = -25.0;
    });
    s.hold(Hold::new(Root::Flight).ease(0.3));
    s.key(0.34, |p| {
        p.at = [LOW_BAR[0] + 1.1, 0.0, LOW_BAR[2] + 0.75];
        p.pitch = -676.0;
        p.arms(160.0, 0.0, 0.0).legs(8.0, 6.0).points(75.0);
    });
}

fn swings(s: &mut Script) {
    s.hold(hanging(HIGH_BAR));
    s.key(0.30, |p| {
        p.pitch = -683.0;
        p.arms(174.0, 0.0, 0.0).legs(-12.0, 4.0);
    });
    s.key(0.34, |p| {
        p.pitch = -722.0;
        p.arms(178.0, 0.0, 0.0).legs(-18.0, 8.0);
        p.neck = 0.0;
    });
    front_end(s, 60.0);
    back_end(s, 46.0);
    s.key(0.62, |p| {
        p.pitch = -722.0;
        p.arms(178.0, 0.0, 0.0).legs(-20.0, 8.0);
    });
    front_end(s, 66.0);
}

fn front_end(s: &mut Script, swing: f64) {
    s.key(0.26, |p| {
        p.pitch = -720.0 - swing * 0.55;
        p.arms(172.0, 0.0, 0.0).legs(22.0, 0.0);
    });
    s.key(0.40, |p| {
        p.pitch = -720.0 - swing;
        p.arms(164.0, 0.0, 0.0).legs(16.0, 0.0);
    });
}

fn back_end(s: &mut Script, swing: f64) {
    s.key(0.60, |p| {
        p.pitch = -720.0;
        p.arms(174.0, 0.0, 0.0).legs(8.0, 0.0);
    });
    s.key(0.62, |p| {
        p.pitch = -720.0 + swing;
        p.arms(170.0, 0.0, 0.0).legs(16.0, 0.0);
    });
}

/// Lets go where the front swing stands still, and drops the legs under the body.
fn dismount(s: &mut Script, step: Option<f64>) {
    s.hold(Hold::new(Root::Flight).ease(0.12));
    s.key(0.23, |p| {
        p.at = [1.4, 0.0, MAT + 1.7];
        p.pitch = -748.0;
        p.arms(150.0, 10.0, 8.0).legs(22.0, 0.0);
    });
    let (x, pitch) = (2.18, -720.0);
    s.key(0.25, |p| {
        p.at = [x - 0.24, 0.0, MAT + 0.66];
        p.pitch = pitch - 2.0;
        p.arms(95.0, 15.0, 8.0).legs(22.0, 24.0).points(5.0).heels(8.0);
    });
    land(s, Spot { x, top: MAT, way: 1.0 }, pitch);
    let end = step.map_or(x, |length| small_step(s, (x, length), pitch));
    finish(s, Spot { x: end, top: MAT, way: 1.0 }, pitch);
}

/// Steps forward with both feet, one after the other, and returns where they end.
fn small_step(s: &mut Script, (x, length): (f64, f64), pitch: f64) -> f64 {
    let (from, to) = (feet_at(x, MAT), feet_at(x + length, MAT));
    s.hold(Hold::new(Root::Free).feet([Foot::Free, from[1]]).ease(0.15).over(MAT));
    s.key(0.10, |p| {
        p.at = [x - 0.10, 0.0, MAT + 0.56];
        p.one_leg(0, 66.0, 90.0).points(-10.0);
    });
    s.key(0.14, |p| {
        p.at = [x + length * 0.4 - 0.1, 0.0, MAT + 0.64];
        p.pitch = pitch + 10.0;
        p.one_leg(0, 32.0, 26.0).points(5.0);
    });
    s.hold(Hold::new(Root::Free).feet([to[0], from[1]]));
    s.key(0.16, |p| {
        p.at = [x + length * 0.75 - 0.09, 0.0, MAT + 0.66];
        p.one_leg(1, -5.0, 30.0);
    });
    s.hold(Hold::new(Root::Free).feet([to[0], Foot::Free]).ease(0.15).over(MAT));
    s.key(0.10, |p| {
        p.at = [x + length * 0.85 - 0.09, 0.0, MAT + 0.68];
        p.one_leg(1, 10.0, 50.0);
    });
    s.key(0.14, |p| {
        p.at = [x + length - 0.085, 0.0, MAT + 0.69];
        p.one_leg(1, 12.0, 16.0);
    });
    s.hold(Hold::new(Root::Free).feet(to));
    x + length
}
