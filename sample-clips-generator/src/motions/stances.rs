//! What several motions begin, end or pass through with.

use crate::camera::Camera;
use crate::figure::body::{HIP_HALF, HIP_HEIGHT, SHOULDER_HALF};
use crate::figure::{Foot, Hand, Hold, Pose, Root, Script, V3};
use crate::scene::BEAM;

/// Returns a pose standing straight with the hips over `x` on a surface `top` metres high.
pub(super) fn standing(x: f64, top: f64) -> Pose {
    let mut pose = Pose { at: [x, 0.0, top + HIP_HEIGHT - 0.004], ..Pose::default() };
    pose.arms(4.0, 6.0, 8.0);
    pose
}

/// A place to land: where the balls of the feet come down, and which way the body faces there.
#[derive(Clone, Copy)]
pub(super) struct Spot {
    /// Metres to the right.
    pub x: f64,
    /// Height of the surface.
    pub top: f64,
    /// 1 facing right, -1 facing left.
    pub way: f64,
}

impl Spot {
    /// Returns both feet flat on the spot.
    pub(super) fn feet(self) -> [Foot; 2] {
        [1.0, -1.0].map(|side| {
            let ball = V3::new(self.x, side * self.way * HIP_HALF, self.top);
            Foot::Plant(ball, side * 4.0 + if self.way < 0.0 { 180.0 } else { 0.0 })
        })
    }

    /// Returns the root for hips `behind` the balls and `up` over the surface.
    pub(super) fn hips(self, behind: f64, up: f64) -> [f64; 3] {
        [self.x - self.way * behind, 0.0, self.top + up]
    }
}

/// Returns both feet flat with the balls at `x`, pointing to the right.
pub(super) fn feet_at(x: f64, top: f64) -> [Foot; 2] {
    Spot { x, top, way: 1.0 }.feet()
}

/// Returns both hands closed around a rail.
pub(super) fn grips(bar: [f64; 3]) -> [Hand; 2] {
    [1.0, -1.0].map(|side| Hand::Grip(V3::from(bar) + V3::y() * side * SHOULDER_HALF))
}

/// Returns a hold by the hands on a rail with everything else free.
pub(super) fn hanging(bar: [f64; 3]) -> Hold {
    Hold::new(Root::Hands(V3::from(bar))).hands(grips(bar))
}

/// Adds a landing on both feet with a bend of the knees. `pitch` is upright.
pub(super) fn land(script: &mut Script, spot: Spot, pitch: f64) {
    script.hold(Hold::new(Root::Free).feet(spot.feet()));
    script.key(0.14, |p| {
        p.at = spot.hips(0.14, 0.535);
        p.pitch = pitch + spot.way * 22.0;
        p.arms(80.0, 15.0, 10.0).legs(60.0, 70.0).heels(0.0);
    });
    script.key(0.18, |p| {
        p.at = spot.hips(0.15, 0.52);
        p.pitch = pitch + spot.way * 25.0;
    });
}

/// Adds standing up straight and lifting the arms, with the feet where they are.
pub(super) fn finish(script: &mut Script, spot: Spot, pitch: f64) {
    script.key(0.5, |p| {
        p.at = spot.hips(0.085, HIP_HEIGHT - 0.004);
        p.pitch = pitch;
        p.spine = 0.0;
        p.neck = 0.0;
        p.arms(150.0, 22.0, 6.0).legs(0.0, 0.0).heels(0.0);
    });
    script.rest(0.35);
    script.key(0.35, |p| {
        p.arms(8.0, 8.0, 8.0);
    });
    script.rest(0.2);
}

/// Begins standing on the beam with the hips over `x`, the left foot behind the right.
pub(super) fn on_beam(x: f64) -> Script {
    let mut pose = standing(x, BEAM);
    pose.at[2] = BEAM + HIP_HEIGHT - 0.02;
    pose.arms(20.0, 80.0, 4.0);
    let feet = [
        Foot::Plant(V3::new(x - 0.04, 0.012, BEAM), 5.0),
        Foot::Plant(V3::new(x + 0.16, -0.012, BEAM), -5.0),
    ];
    let mut script = Script::new(pose, Hold::new(Root::Free).feet(feet));
    script.rest(0.5);
    script.hold(Hold::new(Root::Free).feet([feet[0], Foot::Free]).ease(0.15).over(BEAM));
    script.key(0.25, |p| {
        p.at[0] = x + 0.06;
        p.one_leg(1, 30.0, 16.0).points(30.0);
    });
    script
}

/// Returns a camera square to the beam that sees all of it but the ends.
pub(super) fn beam_camera() -> Camera {
    Camera { at: [-0.5, -7.2, 1.8], yaw: 0.0, pitch: -2.5, roll: 0.0, focal: 1750.0 }
}
