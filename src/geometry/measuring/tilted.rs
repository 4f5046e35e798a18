//! Without a plane: a camera that looks down on the athlete, or up, and joints that lie before or
//! behind the plane of movement.
//!
//! From a camera `down` radians above and `away` radians off square, both as the line of sight to
//! the athlete has them, a point (x, y, n) of a far athlete, n towards the camera, is seen at
//! x cos away - n sin away across, and y cos down - (x sin away + n cos away) sin down up. So
//! heights shrink, and what is level runs down in the picture of a camera that is off square
//! besides. Uprights beside the middle of the picture lean outwards: by the angle off the middle
//! times sin down.

use super::{
    ground::{Ground, Tilt, Variation},
    joints::usual_focal,
    measured::ErrorSource,
    model::Model,
};
use crate::{
    geometry::{
        Quantity,
        angle::wrap,
        error::rng::Rng,
        input::{MeasureInput, View},
    },
    units::{Shown, Unit},
};

/// How far down a camera looks on an athlete where nobody says, in degrees: from the floor up to a
/// beam, and down from the stands.
const USUAL_PITCH: [f64; 2] = [-10.0, 30.0];

/// Drawings of where the camera may stand.
const DRAWS: usize = 400;

/// The longest line of a body that is measured is about so long, in metres: a leg, give or take
/// half of it. It tells how many pixels a joint's depth comes to.
const LIMB: f64 = 0.8;

/// Returns by how much camera and joints may move the value, over yaw alone, which is bounded by
/// itself: each as drawn.
pub(super) fn drawn(input: &MeasureInput, model: &Model) -> Vec<(ErrorSource, Vec<f64>)> {
    let View::Picture { off_square, .. } = &input.view else { return Vec::new() };
    let down = input.facts.pitch.map_or(USUAL_PITCH, |ends| ends.map(|end| end.0));
    let down = down.map(f64::to_radians);
    let best = model.best();
    let away = off_square.to_radians();
    let aside = aside(input, model, &best);
    let mut rng = Rng::new(3);
    let [mut heights, mut joints] = [Vec::new(), Vec::new()];
    for _ in 0..DRAWS {
        let (sin, cos) = rng.between(-away, away).sin_cos();
        let down = rng.between(down[0], down[1]);
        let square = Variation { stretch: 1.0 / cos, ..Variation::NONE };
        let tilt = Tilt { down: Some(down), shear: sin * down.sin() };
        let tilted = Variation { tilt, roll: (aside * down.sin()).to_degrees(), ..square };
        let deep = moved(input, model, &best, [sin, cos * down.sin()], &mut rng);
        let seen = |x: &[f64], variation| model.value(x, variation);
        if let (Some(square), Some(flat), Some(deep)) =
            (seen(&best, square), seen(&best, tilted), seen(&deep, tilted))
        {
            heights.push(off(input.quantity, flat - square));
            joints.push(off(input.quantity, deep - flat));
        }
    }
    vec![(ErrorSource::CameraHeight, heights), (ErrorSource::Joints, joints)]
}

/// Returns how many radians beside the middle of the picture the athlete is; none where an upright
/// or a level edge was clicked, which leans alike.
fn aside(input: &MeasureInput, model: &Model, best: &[f64]) -> f64 {
    if !matches!(model.ground, Ground::Picture { line: None, .. }) {
        return 0.0;
    }
    let centre = input.facts.centre;
    let off = Shown::mean(model.clicked(best, 0)) - centre;
    (off[0] / usual_focal(centre)).atan()
}

/// A ratio has no whole turns.
fn off(quantity: Quantity, by: f64) -> f64 {
    if quantity.unit() == Unit::Degree { wrap(by) } else { by }
}

/// Moves every point to where it would be seen if it lay in the plane, for one drawing of the
/// depths.
fn moved(
    input: &MeasureInput,
    model: &Model,
    best: &[f64],
    [across, up]: [f64; 2],
    rng: &mut Rng,
) -> Vec<f64> {
    let clicked = model.clicked(best, 0);
    let longest = model.shape.lines().into_iter().map(|[a, b]| clicked[a].distance(clicked[b]));
    let scale = longest.fold(0.0, f64::max) / LIMB;
    let depths: Vec<f64> = model
        .names
        .iter()
        .map(|name| {
            scale * (input.facts.side.nearer(name) + input.facts.joint_depth * rng.normal())
        })
        .collect();
    let mut x = best.to_vec();
    for look in 0..model.looks {
        for (at, depth) in x[model.clicks_of(look)].chunks_mut(2).zip(&depths) {
            at[0] += depth * across;
            at[1] -= depth * up;
        }
    }
    x
}
