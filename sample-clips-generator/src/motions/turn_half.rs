//! A turn on one foot, to the left on the left foot, on the floor or on the beam.

use super::Staged;
use super::stances::standing;
use crate::camera::Camera;
use crate::figure::body::HIP_HEIGHT;
use crate::figure::{Foot, Hold, Root, Script, Take, V3};
use crate::options::Params;
use crate::scene::{BEAM, Scene};

/// Top of the floor's carpet.
const TOP: f64 = 0.02;

/// Turns by the angle asked for, from heel lift to heel drop.
pub(super) fn turn(params: &Params) -> Staged {
    let camera = Camera { at: [0.1, -6.4, 1.75], yaw: 0.0, pitch: -8.0, roll: 0.0, focal: 1900.0 };
    let take = whole(V3::new(0.12, 0.0, TOP), params.turn.unwrap_or(180.0), 30.0);
    Staged { take, scene: Scene::floor(), camera }
}

/// The same on the beam, a full turn unless told; at the end both heels come down, the turned
/// foot's first.
pub(super) fn on_beam(params: &Params) -> Staged {
    let camera = Camera { at: [0.1, -5.2, 3.0], yaw: 0.0, pitch: -14.0, roll: 0.0, focal: 1500.0 };
    let take = whole(V3::new(0.12, 0.0, BEAM), params.turn.unwrap_or(360.0), 0.0);
    Staged { take, scene: Scene::beam(), camera }
}

/// `heel` is how far the other foot's heel stays up at the end.
fn whole(ball: V3, size: f64, heel: f64) -> Take {
    let size = size.clamp(-1440.0, 1440.0);
    let mut s = prepare(ball);
    lift(&mut s, ball, size);
    spin(&mut s, ball, size);
    lower(&mut s, ball, size, heel);
    s.take()
}

/// The hips over the ball, `back` metres behind it as the body faces.
fn over(ball: V3, facing: f64, back: f64, up: f64) -> [f64; 3] {
    let (s, c) = facing.to_radians().sin_cos();
    [ball.x - c * back, ball.y - s * back, ball.z + up]
}

/// Stands, then bends into a fourth position with the left foot in front.
fn prepare(ball: V3) -> Script {
    let behind = Foot::Plant(V3::new(ball.x - 0.34, -0.04, ball.z), -20.0);
    let feet = [Foot::Plant(ball, 0.0), behind];
    let mut pose = standing(ball.x - 0.22, ball.z);
    pose.at[2] = ball.z + 0.69;
    pose.arms(45.0, 30.0, 20.0);
    pose.leg[1].heel = 25.0;
    let mut s = Script::new(pose, Hold::new(Root::Free).feet(feet));
    s.rest(0.4);
    s.key(0.5, |p| {
        p.at = [ball.x - 0.17, 0.0, ball.z + 0.60];
        p.leg[1].heel = 40.0;
        p.arms(60.0, 40.0, 20.0);
        p.facing = -6.0;
    });
    s.rest(0.12);
    s
}

/// Rises onto the ball; the body begins to turn as the heel leaves the floor.
fn lift(s: &mut Script, ball: V3, size: f64) {
    s.hold(Hold::new(Root::Free).feet([Foot::Plant(ball, 0.0), Foot::Free]).ease(0.2).over(ball.z));
    s.key(0.24, |p| {
        p.facing = 0.0;
        p.at = over(ball, 0.0, 0.055, HIP_HEIGHT + 0.006);
        p.leg[0].heel = 10.0;
        p.one_leg(1, 42.0, 86.0).points(70.0);
        p.arms(70.0, 24.0, 42.0);
    });
    s.hold(Hold::new(Root::Free).feet([Foot::Pivot(ball, 0.0), Foot::Free]));
    s.key(0.12, |p| {
        p.facing = size * 0.14;
        p.at = over(ball, p.facing, 0.02, HIP_HEIGHT + 0.052);
        p.leg[0].heel = 40.0;
        p.one_leg(1, 62.0, 122.0);
    });
}

fn spin(s: &mut Script, ball: V3, size: f64) {
    let pieces = (size.abs() / 60.0).ceil().max(1.0);
    for k in 1..pieces as u32 {
        let share = 0.14 + 0.74 * f64::from(k) / pieces;
        s.key(0.13, |p| {
            p.facing = size * share;
            p.at = over(ball, p.facing, 0.02, HIP_HEIGHT + 0.056);
        });
    }
    s.key(0.13, |p| {
        p.facing = size * 0.88;
        p.at = over(ball, p.facing, 0.02, HIP_HEIGHT + 0.056);
        p.leg[0].heel = 38.0;
    });
}

/// Comes off the ball when the turn is done; the foot stays as it came down.
fn lower(s: &mut Script, ball: V3, size: f64, heel: f64) {
    s.key(0.20, |p| {
        p.facing = size;
        p.at = over(ball, size, 0.055, HIP_HEIGHT + 0.004);
        p.leg[0].heel = 9.0;
        p.arms(60.0, 40.0, 20.0);
    });
    s.hold(
        Hold::new(Root::Free).feet([Foot::Plant(ball, size), Foot::Free]).ease(0.2).over(ball.z),
    );
    s.key(0.14, |p| {
        p.at = over(ball, size, 0.075, HIP_HEIGHT - 0.010);
        p.leg[0].heel = 0.0;
        p.one_leg(1, 44.0, 88.0);
    });
    s.key(0.34, |p| {
        p.at = over(ball, size, 0.12, HIP_HEIGHT - 0.02);
        p.one_leg(1, -10.0, 16.0).points(60.0);
        p.arms(20.0, 75.0, 6.0);
    });
    // On a beam the other foot comes down along it, however far the turn went.
    let along = if heel > 0.0 { size } else { (size / 180.0).round() * 180.0 };
    let (sin, cos) = along.to_radians().sin_cos();
    let behind =
        V3::new(ball.x - cos * 0.30 + sin * 0.04, ball.y - sin * 0.30 - cos * 0.04, ball.z);
    let feet = [Foot::Plant(ball, size), Foot::Plant(behind, along - 20.0)];
    s.hold(Hold::new(Root::Free).feet(feet));
    // A heel that comes all the way down needs the hips further back.
    let (back, sink) = if heel > 0.0 { (0.14, 0.03) } else { (0.20, 0.06) };
    s.key(0.3, |p| {
        p.at = over(ball, size, back, HIP_HEIGHT - sink);
        p.leg[1].heel = heel;
        p.arms(20.0, 105.0, 4.0);
    });
    s.rest(0.5);
}
