//! Handspring vaults over a stack of mats, clean and with what goes wrong.

use super::Staged;
use super::stances::{Spot, finish, land, standing};
use super::steps::RUN;
use crate::camera::Camera;
use crate::figure::body::{HIP_HALF, SHOULDER_HALF};
use crate::figure::{Foot, Hand, Hold, Root, Script, V3};
use crate::options::Params;
use crate::scene::{MAT, STACK, STACK_LENGTH, Scene};

/// Where the balls of the feet hit the board.
const BOARD: f64 = -1.12;
/// Top of the board there.
const BOARD_TOP: f64 = 0.181;
/// Where the hands are put on a good vault.
const HANDS: f64 = 0.50;
/// The palm's middle over the stack.
const PALM: f64 = STACK + 0.012;

/// A handspring, stuck; the hands leave 12 degrees past vertical unless told.
pub(super) fn handspring(params: &Params) -> Staged {
    let past = params.peak.unwrap_or(12.0).clamp(-20.0, 65.0);
    let mut s = approach(0.0, HANDS);
    if past > 35.0 {
        return late(s, past);
    }
    on_hands(&mut s, HANDS, (180.0 + past, 270.0));
    // Who leaves before vertical flies higher.
    let time = 0.47 + 0.012 * (-past).max(0.0);
    fly_off(&mut s, &Off { turn: 0.0, time, x: 2.42, shoulders: 168.0 });
    staged(s)
}

/// The hands stay on until the body is far past vertical, and the feet come down at once.
fn late(mut s: Script, past: f64) -> Staged {
    on_hands(&mut s, HANDS, (180.0 + past, 190.0));
    s.hold(Hold::new(Root::Flight).ease(0.12));
    let feet = spot(2.12, 1.0);
    s.key(0.30 - 0.14 * (past - 35.0) / 45.0, |p| {
        p.pitch = 330.0;
        p.at = feet.hips(0.42, 0.55);
        p.arms(110.0, 12.0, 8.0).legs(52.0, 30.0).points(5.0).heels(8.0);
    });
    end(&mut s, feet);
    staged(s)
}

/// A half turn before the hands, or as much as told; lands facing the stack all the same.
pub(super) fn half_on(params: &Params) -> Staged {
    let turn = params.turn.unwrap_or(180.0).clamp(0.0, 180.0);
    let mut s = approach(turn, HANDS);
    on_hands(&mut s, HANDS, (192.0, 270.0));
    fly_off(&mut s, &Off { turn: 180.0 - turn, time: 0.47, x: 2.42, shoulders: 168.0 });
    staged(s)
}

/// Forward on and a half turn after the hands; lands facing the stack.
pub(super) fn half_off(_: &Params) -> Staged {
    let mut s = approach(0.0, HANDS);
    on_hands(&mut s, HANDS, (190.0, 270.0));
    fly_off(&mut s, &Off { turn: 180.0, time: 0.48, x: 2.42, shoulders: 170.0 });
    staged(s)
}

/// The repulsion is late and low, and the seat brushes the far end of the stack.
pub(super) fn brush(_: &Params) -> Staged {
    let mut s = approach(0.0, 0.62);
    on_hands(&mut s, 0.62, (222.0, 175.0));
    s.hold(Hold::new(Root::Flight).ease(0.12));
    s.key(0.15, |p| {
        p.pitch = 282.0;
        p.arms(120.0, 10.0, 6.0).legs(34.0, 6.0);
    });
    s.key(0.15, |p| {
        p.pitch = 334.0;
        p.at = spot(1.98, 1.0).hips(0.38, 0.56);
        p.arms(70.0, 16.0, 8.0).legs(52.0, 28.0).points(5.0).heels(8.0);
    });
    end(&mut s, spot(1.98, 1.0));
    staged(s)
}

/// Comes down sitting on the stack, hands behind, and stays there.
pub(super) fn landed_in_support(_: &Params) -> Staged {
    let mut s = approach(0.0, 0.25);
    on_hands(&mut s, 0.25, (196.0, 220.0));
    let seat = [1.22, 0.0, STACK + 0.083];
    s.hold(Hold::new(Root::Flight).ease(0.18));
    s.key(0.38, |p| {
        p.at = seat;
        p.pitch = 325.0;
        p.arms(-70.0, 14.0, 40.0).legs(62.0, 12.0).points(50.0);
    });
    let behind = [1.0, -1.0].map(|y| Hand::Flat(V3::new(0.90, y * 0.2, PALM), V3::x()));
    s.hold(Hold::new(Root::Free).hands(behind));
    s.key(0.16, |p| {
        p.at = [seat[0] + 0.03, 0.0, seat[2] - 0.004];
        p.pitch = 334.0;
        p.legs(68.0, 20.0);
    });
    s.key(0.25, |p| {
        p.pitch = 340.0;
        p.legs(72.0, 24.0).points(40.0);
        p.neck = 18.0;
    });
    s.rest(1.1);
    staged(s)
}

/// The arms give way, the head touches the stack, and the body goes over all the same.
pub(super) fn head_in_support(_: &Params) -> Staged {
    let mut s = approach(0.0, HANDS);
    s.hold(Hold::new(Root::Hands(V3::new(HANDS, 0.0, PALM))).hands(palms(HANDS, 0.0)));
    s.key(0.20, |p| {
        p.pitch = 170.0;
        p.arms(83.0, 0.0, 97.0).legs(8.0, 10.0);
        p.neck = 4.0;
    });
    s.key(0.20, |p| {
        p.pitch = 194.0;
        p.arms(82.0, 0.0, 98.0).legs(18.0, 14.0);
    });
    s.key(0.20, |p| {
        p.pitch = 226.0;
        p.arms(118.0, 0.0, 64.0).legs(14.0, 10.0);
        p.neck = 4.0;
    });
    s.key(0.26, |p| {
        p.pitch = 238.0;
        p.arms(138.0, 0.0, 40.0).legs(6.0, 4.0);
    });
    fly_off(&mut s, &Off { turn: 0.0, time: 0.28, x: 2.06, shoulders: 150.0 });
    staged(s)
}

fn staged(script: Script) -> Staged {
    let camera = Camera { at: [0.25, -8.4, 1.55], yaw: 0.0, pitch: -2.2, roll: 0.0, focal: 1600.0 };
    Staged { take: script.take(), scene: Scene::stack(), camera }
}

fn spot(x: f64, way: f64) -> Spot {
    Spot { x, top: MAT, way }
}

/// Both palms on the stack, as far turned as the body, which is upside down over them.
fn palms(x: f64, twist: f64) -> [Hand; 2] {
    let (sin, cos) = twist.to_radians().sin_cos();
    let fingers = V3::new(cos, -sin, 0.0);
    [SHOULDER_HALF, -SHOULDER_HALF]
        .map(|aside| Hand::Flat(V3::new(x + sin * aside, cos * aside, PALM), fingers))
}

/// Runs, jumps off the board and turns by `turn` until the hands touch the stack at `hands`.
fn approach(turn: f64, hands: f64) -> Script {
    let steps = 5;
    let first = BOARD - 1.32 - RUN.length * f64::from(steps);
    let mut s = Script::new(standing(first, RUN.top), Hold::new(Root::Free));
    for k in 0..steps {
        RUN.step(&mut s, (k % 2) as usize, first + RUN.length * f64::from(k));
    }
    hurdle(&mut s, first + RUN.length * f64::from(steps));
    punch(&mut s);
    s.hold(Hold::new(Root::Flight).ease(0.12));
    s.key(0.16, |p| {
        // Not seen in flight, but the push-off's speed runs on towards it.
        p.at = [BOARD + 0.14 + 0.45, 0.0, BOARD_TOP + 0.735 + 0.40];
        p.pitch = 76.0;
        p.twist = turn * 0.55;
        p.arms(166.0, 0.0, 0.0).legs(-16.0, 4.0).points(75.0);
    });
    s.key(0.15, |p| {
        p.at[0] = hands;
        p.pitch = 128.0;
        p.twist = turn;
        p.arms(168.0, 0.0, 0.0).legs(-10.0, 0.0);
        p.neck = -20.0;
    });
    s
}

/// Steps from the right foot, hips at `x`, into a low jump with both feet together.
fn hurdle(s: &mut Script, x: f64) {
    let feet = [Foot::Free, RUN.plant(1, x + 0.24)];
    s.hold(Hold::new(Root::Free).feet(feet).ease(0.08).over(RUN.top));
    s.key(0.15, |p| {
        p.at = [x + 0.50, 0.0, RUN.top + 0.72];
        p.pitch = 6.0;
        p.one_leg(0, 52.0, 60.0).one_leg(1, -26.0, 8.0).points(40.0);
        p.arms(30.0, 10.0, 25.0);
    });
    s.hold(Hold::new(Root::Flight).ease(0.1).over(RUN.top));
    s.key(0.26, |p| {
        p.at = [BOARD - 0.30, 0.0, BOARD_TOP + 0.62];
        p.pitch = -6.0;
        p.legs(30.0, 22.0).points(10.0).heels(10.0);
        p.arms(-30.0, 12.0, 10.0);
    });
}

fn punch(s: &mut Script) {
    let feet = [1.0, -1.0]
        .map(|side| Foot::Plant(V3::new(BOARD, side * HIP_HALF * 0.8, BOARD_TOP), side * 3.0));
    s.hold(Hold::new(Root::Free).feet(feet));
    s.key(0.06, |p| {
        p.at = [BOARD - 0.15, 0.0, BOARD_TOP + 0.595];
        p.pitch = 2.0;
        p.arms(35.0, 10.0, 20.0).heels(12.0);
    });
    s.key(0.08, |p| {
        p.at = [BOARD + 0.14, 0.0, BOARD_TOP + 0.735];
        p.pitch = 24.0;
        p.arms(135.0, 4.0, 10.0).legs(-6.0, 2.0).points(60.0).heels(50.0);
    });
}

/// Goes over straight arms until the pitch is `leave`, at last at `speed` degrees per second.
fn on_hands(s: &mut Script, x: f64, (leave, speed): (f64, f64)) {
    let palms = palms(x, s.pose().twist);
    s.hold(Hold::new(Root::Hands(V3::new(x, 0.0, PALM))).hands(palms));
    // On the way, which a vault that leaves before vertical does not pass.
    let way = leave.min(174.0) - 6.0;
    s.key(0.17, |p| {
        p.pitch = way;
        p.arms(172.0, 0.0, 0.0).legs(-4.0, 0.0);
    });
    s.key((leave - way) / speed, |p| {
        p.pitch = leave;
        p.arms(176.0, 0.0, 0.0).legs(-2.0, 0.0);
        p.neck = -10.0;
    });
}

/// The second flight.
struct Off {
    /// Turn during it. Degrees.
    turn: f64,
    /// How long it is. Seconds.
    time: f64,
    /// Where the balls of the feet land.
    x: f64,
    /// How far the arms stay overhead halfway.
    shoulders: f64,
}

fn fly_off(s: &mut Script, off: &Off) {
    let from = s.pose();
    let twist = from.twist + off.turn;
    let way = twist.to_radians().cos().round();
    let spot = spot(off.x, way);
    s.hold(Hold::new(Root::Flight).ease(0.15));
    s.key(off.time * 0.5, |p| {
        // Not seen in flight, but the landing's speed comes from here.
        p.at = spot.hips(0.26 * way + 0.9 * way, 1.4);
        p.pitch = f64::midpoint(from.pitch, 358.0);
        p.twist = from.twist + off.turn * 0.5;
        p.arms(off.shoulders, 6.0, 2.0).legs(-6.0 * way, 0.0);
    });
    s.key(off.time * 0.5, |p| {
        p.at = spot.hips(0.26 * way, 0.66);
        p.pitch = 350.0;
        p.twist = twist;
        p.neck = 0.0;
        p.arms(140.0, 14.0, 6.0)
            .legs(if way > 0.0 { 18.0 } else { 2.0 }, 20.0)
            .points(5.0)
            .heels(8.0);
    });
    end(s, spot);
}

fn end(s: &mut Script, spot: Spot) {
    debug_assert!(spot.x > STACK_LENGTH);
    land(s, spot, 360.0);
    finish(s, spot, 360.0);
}
