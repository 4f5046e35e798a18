//! A handstand on the beam whose hips come over the shoulders before one leg comes after.

use super::Staged;
use super::stances::{beam_camera, standing};
use crate::figure::body::SHOULDER_HALF;
use crate::figure::{Foot, Hand, Hold, Root, Script, V3};
use crate::options::Params;
use crate::scene::{BEAM, Scene};

/// Where the hands are, along the beam.
const HANDS: f64 = 0.1;
/// The palm's middle over the beam.
const PALM: f64 = BEAM + 0.012;

/// How far the arms are out: the hands are nearer together than the shoulders. Degrees.
const INWARD: f64 = -15.5;

/// Begins leaning on the hands with one foot still down, lifts into a handstand whose trunk comes
/// within the angle asked for of vertical, one leg lagging by 50 degrees, and stays there.
pub(super) fn handstand(params: &Params) -> Staged {
    let off = params.peak.unwrap_or(0.0).clamp(0.0, 60.0);
    let at = V3::new(HANDS, 0.0, PALM);
    // The beam is narrower than the shoulders: one hand in front of the other.
    let palms = [1.0, -1.0].map(|side| {
        Hand::Flat(at + V3::new(side * 0.02, side * 0.15 * SHOULDER_HALF, 0.0), V3::x())
    });
    let hold = Hold::new(Root::Hands(at)).hands(palms).over(BEAM);
    let mut pose = standing(HANDS, BEAM);
    pose.pitch = 118.0;
    pose.arms(150.0, INWARD, 0.0).one_leg(0, -80.0, 0.0).one_leg(1, 60.0, 30.0).points(70.0);
    let mut s = Script::new(pose, hold.feet([Foot::Free; 2]));
    s.rest(0.2);
    s.key(0.6, |p| {
        p.pitch = 180.0 - off;
        p.arms(178.0, INWARD, 0.0).one_leg(0, -2.0, 0.0).one_leg(1, 50.0, 0.0);
    });
    s.rest(0.5);
    Staged { take: s.take(), scene: Scene::beam(), camera: beam_camera() }
}
