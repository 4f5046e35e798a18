//! A leg lift between two steps on the beam, its height as asked for.

use super::Staged;
use super::beam_leap::STEPS;
use super::stances::{beam_camera, on_beam};
use crate::figure::body::HIP_HEIGHT;
use crate::figure::{Foot, Hold, Root, Script};
use crate::options::Params;
use crate::scene::{BEAM, Scene};

/// Steps, kicks the right leg forward while standing on the left, and steps down on it.
pub(super) fn kick(params: &Params) -> Staged {
    let height = params.peak.unwrap_or(60.0).clamp(5.0, 170.0);
    let mut s = on_beam(-1.2);
    STEPS.step(&mut s, 1, -1.14);
    let x = -1.14 + STEPS.length;
    swing(&mut s, x, height);
    step_down(&mut s, x + 0.2);
    Staged { take: s.take(), scene: Scene::beam(), camera: beam_camera() }
}

fn swing(s: &mut Script, x: f64, height: f64) {
    let stand = STEPS.plant(0, x + 0.20);
    s.hold(Hold::new(Root::Free).feet([stand, Foot::Free]).ease(0.12).over(BEAM));
    s.key(0.30, |p| {
        p.at = [x + 0.13, 0.0, BEAM + HIP_HEIGHT - 0.012];
        p.pitch = 0.0;
        p.one_leg(1, -12.0, 14.0).points(72.0).heels(0.0);
        p.arms(20.0, 82.0, 3.0);
    });
    s.key(0.34, |p| {
        p.at = [x + 0.12, 0.0, BEAM + HIP_HEIGHT - 0.010];
        p.one_leg(1, height, 0.0);
    });
    s.key(0.36, |p| {
        p.at = [x + 0.20, 0.0, BEAM + HIP_HEIGHT - 0.022];
        p.one_leg(1, 20.0, 4.0).points(50.0);
    });
}

/// Puts the right foot down in front of the left, whose ball is at `x`.
fn step_down(s: &mut Script, x: f64) {
    let (back, front) = (STEPS.plant(0, x), STEPS.plant(1, x + 0.36));
    s.key(0.12, |p| {
        p.at[0] = x + 0.10;
        p.at[2] = BEAM + 0.69;
        p.one_leg(1, 26.0, 10.0).points(12.0);
    });
    s.hold(Hold::new(Root::Free).feet([back, front]));
    s.key(0.3, |p| {
        p.at = [x + 0.24, 0.0, BEAM + HIP_HEIGHT - 0.03];
        p.arms(20.0, 115.0, 2.0);
    });
    s.rest(0.6);
}
