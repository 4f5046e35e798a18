//! Causes that are known by their bounds only, and therefore taken as rectangular.

use super::{
    ground::{Ground, Variation},
    measured::ErrorSource,
    model::{Joined, Model},
    tilted,
};
use crate::{
    geometry::{
        error::{rng::Rng, turned_away},
        input::{MeasureInput, View},
        shape::AngleShape,
    },
    units::{Degrees, Shown},
};

/// By how much the truth lies off the value for one cause.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bound {
    /// What bounds it.
    pub cause: ErrorSource,
    off: Off,
}

#[derive(Clone, Debug, PartialEq)]
enum Off {
    /// From the lowest, usually zero or negative, to the highest, each as likely.
    Even([f64; 2]),
    /// Any of these.
    OneOf(Vec<f64>),
}

impl Bound {
    fn of(cause: ErrorSource, ends: [f64; 2]) -> Self {
        Self { cause, off: Off::Even([ends[0].min(ends[1]), ends[0].max(ends[1])]) }
    }

    /// Returns the root mean square about the value: a over root 3 when both sides are a.
    pub(crate) fn u(&self) -> f64 {
        match &self.off {
            Off::Even([low, high]) => ((low * low + low * high + high * high) / 3.0).sqrt(),
            Off::OneOf(all) => {
                (all.iter().map(|off| off * off).sum::<f64>() / all.len().max(1) as f64).sqrt()
            }
        }
    }

    /// Draws once.
    pub(crate) fn draw(&self, rng: &mut Rng) -> f64 {
        match &self.off {
            Off::Even([low, high]) => rng.between(*low, *high),
            Off::OneOf(all) => {
                let place = (rng.uniform() * all.len() as f64) as usize;
                all.get(place).copied().unwrap_or(0.0)
            }
        }
    }
}

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
    bounds.extend(tilted.map(|(cause, off)| Bound { cause, off: Off::OneOf(off) }));
    heel(input, model, value, &mut bounds);
    depth(model, value, &mut bounds);
    time(input, model, value, &mut bounds);
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

fn time(input: &MeasureInput, model: &Model, value: f64, bounds: &mut Vec<Bound>) {
    let Some(Speed { per_second, is_signed }) = speed(input, model, value) else { return };
    let smear = per_second.abs() * input.facts.exposure / 2.0;
    bounds.push(Bound::of(ErrorSource::Blur, [-smear, smear]));
    let skew = per_second.abs() * READOUT * rows_apart(input, model);
    bounds.push(Bound::of(ErrorSource::Shutter, [-skew, skew]));
    let look = match &model.joined {
        Joined::Peak { .. } => return,
        // A foot that stands still afterwards points where it pointed at the drop.
        Joined::Turn { after, .. } if after.len() > 1 => return,
        Joined::Turn { .. } => &input.looks[1],
        Joined::First => &input.looks[0],
    };
    let ends = look.instant.map(|end| per_second * (end - look.seconds));
    let most = ends[0].abs().max(ends[1].abs());
    bounds.push(Bound::of(ErrorSource::Instant, if is_signed { ends } else { [-most, most] }));
}

/// Cameras take up to this long, in seconds, from a picture's first row to its last; published
/// readouts of phones are 5 to 33 ms, of late ones under 20.
const READOUT: f64 = 0.020;

/// Returns over which share of the picture's rows the points of the first frame lie; sensors are
/// read along their short side.
fn rows_apart(input: &MeasureInput, model: &Model) -> f64 {
    let Shown(half) = input.facts.centre;
    let across = usize::from(half[1] <= half[0]);
    let rows = || model.clicked(&model.best(), 0).into_iter().map(|point| point.0[across]);
    let [first, last] =
        [rows().fold(f64::INFINITY, f64::min), rows().fold(f64::NEG_INFINITY, f64::max)];
    (last - first) / (2.0 * half[across]).max(1.0)
}

struct Speed {
    per_second: f64,
    is_signed: bool,
}

/// Returns the angular speed as stated, or as the frames clicked on tell.
fn speed(input: &MeasureInput, model: &Model, value: f64) -> Option<Speed> {
    if let Some(speed) = input.facts.speed {
        return Some(Speed { per_second: speed.0.abs(), is_signed: false });
    }
    let seconds = |look: usize| input.looks[look].seconds;
    if matches!(model.joined, Joined::Turn { .. }) {
        let lasted = seconds(1) - seconds(0);
        return (lasted > 0.0).then(|| Speed { per_second: value.abs() / lasted, is_signed: true });
    }
    // Three frames about a peak that is too flat for a parabola: the frame is the peak.
    if input.quantity.is_read_at_its_peak() {
        return None;
    }
    let gap = |look: &usize| (seconds(*look) - seconds(0)).abs();
    let nearest = (1..input.looks.len())
        .filter(|look| gap(look) > 0.0)
        .min_by(|a, b| gap(a).total_cmp(&gap(b)))?;
    let x = model.best();
    let change = model.angle_of(&x, nearest)? - model.angle_of(&x, 0)?;
    Some(Speed { per_second: change / (seconds(nearest) - seconds(0)), is_signed: true })
}
