//! Causes that are known by their bounds only, and therefore taken as rectangular.

use super::{
    bound::Bound,
    ground::{Ground, Variation},
    measured::ErrorSource,
    model::{Joined, Model},
    passing, tilted,
};
use crate::{
    geometry::{
        error::turned_away,
        input::{MeasureInput, View},
        shape::AngleShape,
    },
    units::{Degrees, Shown},
};

/// A picture that nobody levelled may be turned by this much either way.
const UNLEVELLED: f64 = 2.0;

/// What lies one shoulder width (0.36 m) lower looks smaller or larger by up to this share, from a
/// camera 4 m away and up to 10 degrees above or below: 0.36 m times the sine, over 4 m.
const HIGHER: f64 = 0.016;

/// Returns the bounded causes of a measurement whose value at the best numbers is `value`.
pub(crate) fn all(input: &MeasureInput, model: &Model, value: f64) -> Vec<Bound> {
    let mut bounds = Vec::new();
    camera(input, model, value, &mut bounds);
    let tilted = tilted::drawn(input, model).into_iter();
    bounds.extend(tilted.map(|(cause, off)| Bound::one_of(cause, off)));
    heel(input, model, value, &mut bounds);
    depth(model, value, &mut bounds);
    bounds.extend(passing::bounds(input, model, value));
    bounds.retain(|bound| bound.u() > 0.0 && bound.u().is_finite());
    bounds
}

fn camera(input: &MeasureInput, model: &Model, value: f64, bounds: &mut Vec<Bound>) {
    let View::Picture { off_square, .. } = &input.view else { return };
    let x = model.best();
    let off = |variation| model.value(&x, variation).map_or(0.0, |seen| seen - value);
    if matches!(model.shape, AngleShape::Opening { .. }) {
        let ends = turned_away::opening_true(Degrees(value), *off_square);
        bounds.push(Bound::of(ErrorSource::CameraAngle, ends.map(|end| end.0 - value)));
        return;
    }
    if matches!(model.shape, AngleShape::Bend { .. }) {
        // What is left of a straight line opens at the joint.
        let ends = turned_away::opening_true(Degrees(180.0 - value.abs()), *off_square);
        let off = ends.map(|end| value.signum() * (180.0 - end.0) - value);
        bounds.push(Bound::of(ErrorSource::CameraAngle, off));
        return;
    }
    if let AngleShape::Ratio { of, over } = model.shape {
        let clicked = model.clicked(&x, 0);
        let [of, over] = [of, over].map(|ends| ends.map(|end| clicked[end]));
        let gap = Shown::mean(of).distance(Shown::mean(over)) / over[0].distance(over[1]);
        let most = value * gap * HIGHER;
        bounds.push(Bound::of(ErrorSource::CameraAngle, [-most, most]));
    }
    let stretch = 1.0 / off_square.to_radians().cos();
    let most = off(Variation { stretch, ..Variation::NONE });
    bounds.push(Bound::of(ErrorSource::CameraAngle, [0.0, most]));
    if matches!(model.ground, Ground::Picture { line: None, .. }) {
        let ends = [-UNLEVELLED, UNLEVELLED].map(|roll| off(Variation { roll, ..Variation::NONE }));
        bounds.push(Bound::of(ErrorSource::Roll, ends));
    }
}

fn heel(input: &MeasureInput, model: &Model, value: f64, bounds: &mut Vec<Bound>) {
    let height = input.facts.heel_height;
    if !matches!(model.joined, Joined::Turn { .. }) || height <= 0.0 {
        return;
    }
    let x = model.best();
    for heel in [[height, 0.0], [0.0, height]] {
        let seen = model.value(&x, Variation { heel, ..Variation::NONE });
        bounds
            .push(Bound::of(ErrorSource::HeelHeight, [0.0, seen.map_or(0.0, |seen| seen - value)]));
    }
}

fn depth(model: &Model, value: f64, bounds: &mut Vec<Bound>) {
    let Some(within) = model.correction.map(|correction| correction.within()) else { return };
    let x = model.best();
    let off = [-within, within].map(|nearer| {
        let seen = model.value(&x, Variation { nearer, ..Variation::NONE });
        seen.map_or(0.0, |seen| seen - value)
    });
    bounds.push(Bound::of(ErrorSource::Depth, off));
}
