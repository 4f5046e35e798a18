//! What several motions begin, end or pass through with.

use crate::figure::body::{HIP_HALF, HIP_HEIGHT, SHOULDER_HALF};
use crate::figure::{Foot, Hand, Hold, Pose, Root, Script, V3};

/// Returns a pose standing straight with the hips over `x` on a surface `top` metres high.
pub fn standing(x: f64, top: f64) -> Pose {
    let mut pose = Pose { at: [x, 0.0, top + HIP_HEIGHT - 0.004], ..Pose::default() };
    pose.arms(4.0, 6.0, 8.0);
    pose
}

/// Returns both feet flat with the balls at `x`, pointing to the right.
pub fn feet_at(x: f64, top: f64) -> [Foot; 2] {
    [1.0, -1.0].map(|side| Foot::Plant(V3::new(x, side * HIP_HALF, top), side * 4.0))
}

/// Returns both hands closed around a rail.
pub fn grips(bar: [f64; 3]) -> [Hand; 2] {
    [1.0, -1.0].map(|side| Hand::Grip(V3::from(bar) + V3::y() * side * SHOULDER_HALF))
}

/// Returns a hold by the hands on a rail with everything else free.
pub fn hanging(bar: [f64; 3]) -> Hold {
    Hold::new(Root::Hands(V3::from(bar))).hands(grips(bar))
}

/// Adds a landing on both feet, a bend of the knees and a finish with the arms up.
///
/// `x` is where the balls land and `top` the surface's height; the body must be near upright.
pub fn land(script: &mut Script, (x, top): (f64, f64), pitch: f64) {
    script.hold(Hold::new(Root::Free).feet(feet_at(x, top)));
    script.key(0.16, |p| {
        p.at = [x - 0.16, 0.0, top + 0.47];
        p.pitch = pitch + 30.0;
        p.arms(75.0, 15.0, 10.0).legs(70.0, 90.0);
    });
    script.key(0.22, |p| {
        p.at = [x - 0.17, 0.0, top + 0.45];
        p.pitch = pitch + 32.0;
    });
}

/// Adds standing up straight and lifting the arms, with the feet where they are.
pub fn finish(script: &mut Script, (x, top): (f64, f64), pitch: f64) {
    script.key(0.5, |p| {
        p.at = [x - 0.085, 0.0, top + HIP_HEIGHT - 0.004];
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
