//! A short pass on the floor: handspring to two feet, straight into a stretched jump.

use super::Staged;
use super::stances::{Spot, finish, land, standing};
use super::steps::RUN;
use crate::camera::Camera;
use crate::figure::body::SHOULDER_HALF;
use crate::figure::{Foot, Hand, Hold, Root, Script, V3};
use crate::options::Params;
use crate::scene::Scene;

/// Top of the floor's carpet.
const TOP: f64 = RUN.top;
/// The palm's middle over the floor.
const PALM: f64 = TOP + 0.012;
/// Where the run begins.
const START: f64 = -4.6;
/// From the ball of the last foot forward to the hands.
const REACH: f64 = 0.74;

/// Run, handspring, stretched jump; the peak is how far out each leg goes in it.
pub(super) fn pass(params: &Params) -> Staged {
    let mut s = Script::new(standing(START, TOP), Hold::new(Root::Free));
    for k in 0..4 {
        RUN.step(&mut s, k % 2, START + RUN.length * k as f64);
    }
    let x = START + RUN.length * 4.0;
    let hands = lunge(&mut s, x);
    over_hands(&mut s, hands);
    let landing = Spot { x: hands + 1.26, top: TOP, way: 1.0 };
    fly(&mut s, landing);
    rebound(&mut s, landing, params.peak.unwrap_or(0.0));
    let end = Spot { x: landing.x + 0.50, ..landing };
    land(&mut s, end, 360.0);
    finish(&mut s, end, 360.0);
    let camera = Camera { at: [-0.2, -8.2, 1.6], yaw: 0.0, pitch: -4.5, roll: 0.0, focal: 1560.0 };
    Staged { take: s.take(), scene: Scene::floor(), camera }
}

/// Steps long onto the left foot, hips at `x`, and reaches for the floor; returns where.
fn lunge(s: &mut Script, x: f64) -> f64 {
    let ball = x + 0.32;
    let hold = |root| Hold::new(root).feet([RUN.plant(0, ball), Foot::Free]).ease(0.1).over(TOP);
    s.hold(hold(Root::Free));
    s.key(0.17, |p| {
        p.at = [x + 0.28, 0.0, TOP + 0.60];
        p.pitch = 52.0;
        p.one_leg(0, 60.0, 50.0).one_leg(1, -22.0, 14.0).points(40.0).heels(0.0);
        p.arms(165.0, 0.0, 4.0);
    });
    s.hold(hold(Root::Glide));
    s.key(0.17, |p| {
        p.pitch = 136.0;
        p.one_leg(0, 118.0, 12.0).one_leg(1, -14.0, 4.0).points(70.0);
        p.arms(166.0, 0.0, 0.0);
        p.neck = -18.0;
    });
    ball + REACH
}

fn over_hands(s: &mut Script, x: f64) {
    let palms = [1.0, -1.0].map(|side| Hand::Flat(V3::new(x, side * SHOULDER_HALF, PALM), V3::x()));
    s.hold(Hold::new(Root::Hands(V3::new(x, 0.0, PALM))).hands(palms).ease(0.12).over(TOP));
    s.key(0.19, |p| {
        p.pitch = 174.0;
        p.arms(174.0, 0.0, 0.0).one_leg(0, 30.0, 4.0).one_leg(1, -24.0, 2.0).points(75.0);
    });
    s.key(0.09, |p| {
        p.pitch = 189.0;
        p.arms(178.0, 0.0, 0.0).one_leg(0, -2.0, 0.0).one_leg(1, -22.0, 0.0);
    });
}

fn fly(s: &mut Script, landing: Spot) {
    s.hold(Hold::new(Root::Flight).ease(0.1));
    s.key(0.17, |p| {
        p.at = landing.hips(1.0, 1.2);
        p.pitch = 282.0;
        p.arms(172.0, 4.0, 2.0).legs(-14.0, 4.0);
    });
    s.key(0.17, |p| {
        p.at = landing.hips(0.27, 0.64);
        p.pitch = 352.0;
        p.neck = 0.0;
        p.arms(165.0, 8.0, 4.0).legs(20.0, 14.0).points(10.0).heels(14.0);
    });
}

/// Presses off at once and jumps.
fn rebound(s: &mut Script, landing: Spot, out: f64) {
    s.hold(Hold::new(Root::Free).feet(landing.feet()).over(TOP));
    s.key(0.07, |p| {
        p.at = landing.hips(0.12, 0.62);
        p.pitch = 362.0;
        p.heels(10.0);
    });
    s.key(0.08, |p| {
        p.at = landing.hips(0.03, 0.745);
        p.pitch = 362.0;
        p.legs(0.0, 2.0).points(60.0).heels(45.0);
        p.arms(172.0, 6.0, 2.0);
    });
    s.hold(Hold::new(Root::Flight).ease(0.1).over(TOP));
    s.key(0.24, |p| {
        p.at = landing.hips(-0.25, 1.15);
        p.pitch = 360.0;
        p.legs(-2.0, 0.0).points(78.0);
        p.leg.iter_mut().for_each(|leg| leg.out = out);
        p.arms(176.0, 4.0, 0.0);
    });
    s.key(0.23, |p| {
        p.leg.iter_mut().for_each(|leg| leg.out = 0.0);
        p.at = [landing.x + 0.50 - 0.15, 0.0, TOP + 0.67];
        p.pitch = 362.0;
        p.legs(14.0, 16.0).points(8.0).heels(10.0);
        p.arms(140.0, 12.0, 6.0);
    });
}
