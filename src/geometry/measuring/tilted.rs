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
        error::{propagate::first_order, rng::Rng},
        input::{MeasureInput, View},
    },
    units::{Shown, Unit},
};

/// How far down a camera looks on an athlete where nobody says, in degrees: from the floor up to a
/// beam, and down from the stands.
const USUAL_PITCH: [f64; 2] = [-10.0, 30.0];

/// Drawings of where the camera may stand.
const DRAWS: usize = 400;
/// So often is drawn at most, where few cameras see what was clicked.
const MOST_DRAWS: usize = 10_000;

/// The longest line of a body that is measured is about so long, in metres: a leg, give or take
/// half of it. It tells how many pixels a joint's depth comes to.
const LIMB: f64 = 0.8;

/// Lines that are taken as plumb, level or alike are so to this tangent, half a degree.
const TRUE: f64 = 0.01;

/// Returns by how much camera and joints may move the value, over yaw alone, which is bounded by
/// itself: each as drawn. Where an upright and a level edge were clicked, cameras that see them at
/// another angle are drawn as seldom as that is unlikely.
pub(super) fn drawn(input: &MeasureInput, model: &Model) -> Vec<(ErrorSource, Vec<f64>)> {
    let View::Picture { off_square, .. } = &input.view else { return Vec::new() };
    let down = input.facts.pitch.map_or(USUAL_PITCH, |ends| ends.map(|end| end.0));
    let down = down.map(f64::to_radians);
    let best = model.best();
    let away = off_square.to_radians();
    let aside = aside(input, model, &best);
    let seen = first_order(&model.inputs, |x| model.ground.runs_down(x));
    let below = below(input, model, &best);
    let [mut heights, mut joints] = [Vec::new(), Vec::new()];
    // Lines that no camera sees so are not what they were taken for, and tell the less.
    for doubt in [1.0, 4.0, 16.0, f64::INFINITY] {
        let mut rng = Rng::new(3);
        (heights, joints) = (Vec::new(), Vec::new());
        for _ in 0..MOST_DRAWS {
            if heights.len() >= DRAWS {
                break;
            }
            let (sin, cos) = rng.between(-away, away).sin_cos();
            let down = rng.between(down[0], down[1]);
            let shear = match &seen {
                None => sin * down.sin(),
                Some(seen) => {
                    // Of what is parallel, what lies lower in the picture runs down the more.
                    let more = below * sin / cos;
                    let u = doubt * seen.u().hypot(TRUE);
                    let miss = (sin / cos * down.sin() + more - seen.value) / u;
                    if rng.uniform() > (-miss * miss / 2.0).exp() {
                        continue;
                    }
                    -more * cos
                }
            };
            let square = Variation { stretch: 1.0 / cos, ..Variation::NONE };
            let tilt = Tilt { down: Some(down), shear };
            let tilted = Variation { tilt, roll: (aside * down.sin()).to_degrees(), ..square };
            let deep = moved(input, model, &best, [sin, cos * down.sin()], &mut rng);
            let value = |x: &[f64], variation| model.value(x, variation);
            if let (Some(square), Some(flat), Some(deep)) =
                (value(&best, square), value(&best, tilted), value(&deep, tilted))
            {
                heights.push(off(input.quantity, flat - square));
                joints.push(off(input.quantity, deep - flat));
            }
        }
        if seen.is_none() || heights.len() >= DRAWS {
            break;
        }
    }
    vec![(ErrorSource::CameraHeight, heights), (ErrorSource::Joints, joints)]
}

/// Returns how many radians beside the middle of the picture the athlete is, or beside the upright that was
/// clicked with a level edge; none where one line alone was clicked, which leans alike.
fn aside(input: &MeasureInput, model: &Model, best: &[f64]) -> f64 {
    let from = match model.ground {
        Ground::Picture { line: None, .. } => input.facts.centre,
        Ground::Picture { line: Some(line), level: Some(_), .. } => middle(best, line),
        _ => return 0.0,
    };
    let off = Shown::mean(model.clicked(best, 0)) - from;
    (off[0] / usual_focal(input.facts.centre)).atan()
}

/// Returns by how much of a focal length a level edge that was clicked lies below the athlete.
fn below(input: &MeasureInput, model: &Model, best: &[f64]) -> f64 {
    let Ground::Picture { level: Some(level), .. } = model.ground else { return 0.0 };
    let off = middle(best, level) - Shown::mean(model.clicked(best, 0));
    off[1] / usual_focal(input.facts.centre)
}

fn middle(best: &[f64], at: usize) -> Shown {
    Shown::mean([Shown([best[at], best[at + 1]]), Shown([best[at + 2], best[at + 3]])])
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
