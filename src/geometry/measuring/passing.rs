//! What time does to a value: the moment lies between frames while the value goes on.

use super::{
    bound::Bound,
    measured::ErrorSource,
    model::{Joined, Model},
};
use crate::{
    geometry::{Pace, ReadAt, angle::wrap, input::MeasureInput},
    units::Shown,
};

/// Cameras take up to this long, in seconds, from a picture's first row to its last; published
/// readouts of phones are 5 to 33 ms, of late ones under 20.
const READOUT: f64 = 0.020;

/// How fast a value changes about its moment, in its unit per second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Rate {
    /// By so much, up or down, as frames clicked on tell.
    Seen(f64),
    /// Upwards, by something between these.
    Onward([f64; 2]),
    /// Upwards, by so much, as stated.
    Stated(f64),
    /// No faster than this, nobody knows which way.
    EitherWay(f64),
}

impl Rate {
    /// Returns it as stated, as the frames clicked on tell, or as it usually is.
    pub(super) fn of(input: &MeasureInput, model: &Model) -> Option<Self> {
        let released = input.quantity.read_at() == ReadAt::HandRelease;
        if let Some(speed) = input.facts.speed {
            let speed = speed.0.abs();
            return Some(if released { Self::Stated(speed) } else { Self::EitherWay(speed) });
        }
        let seconds = |look: usize| input.looks[look].seconds;
        let gap = |look: &usize| (seconds(*look) - seconds(0)).abs();
        // Frames that repeat one picture have the same next one, and tell no speed.
        let repeats = |look: &usize| {
            let [first, other] = [0, *look].map(|look| input.looks[look].instant);
            first[1] > first[0] && first[1] == other[1]
        };
        // Three frames about a peak that is too flat for a parabola: the frame is the peak.
        let others = if input.quantity.is_read_at_its_peak() { 0..0 } else { 1..input.looks.len() };
        let nearest = others
            .filter(|look| gap(look) > 0.0 && !repeats(look))
            .min_by(|a, b| gap(a).total_cmp(&gap(b)));
        if let Some(nearest) = nearest {
            let x = model.best();
            let change = model.angle_of(&x, nearest)? - model.angle_of(&x, 0)?;
            return Some(Self::Seen(wrap(change) / (seconds(nearest) - seconds(0))));
        }
        // A picture without frames beside it was not cut out of a movement.
        if !is_between_frames(input) {
            return None;
        }
        match input.quantity.pace() {
            Pace::Onward(ends) => Some(Self::Onward(ends)),
            Pace::EitherWay(most) => Some(Self::EitherWay(most)),
            Pace::Still | Pace::TurnsBack(_) => None,
        }
    }

    /// Returns the likeliest.
    pub(super) fn middle(self) -> f64 {
        match self {
            Self::Seen(rate) | Self::Stated(rate) => rate,
            Self::Onward([low, high]) => f64::midpoint(low, high),
            Self::EitherWay(_) => 0.0,
        }
    }

    /// Returns whether it is no more than usual.
    pub(super) const fn is_usual(self) -> bool {
        matches!(self, Self::Onward(_))
    }

    /// Returns its size, whichever way it goes.
    fn size(self) -> f64 {
        if let Self::EitherWay(most) = self { most } else { self.middle().abs() }
    }

    /// Returns by how much the value may have changed between two instants counted from the frame,
    /// less `taken`, which is in the value already.
    fn bound(self, [from, to]: [f64; 2], taken: f64) -> Bound {
        let even = |ends| Bound::of(ErrorSource::Instant, ends);
        match self {
            Self::Seen(rate) | Self::Stated(rate) => even([from, to].map(|end| rate * end - taken)),
            Self::EitherWay(most) => {
                let most = most * from.abs().max(to.abs());
                even([-most, most])
            }
            Self::Onward([low, high]) => {
                let share = |k: usize| (k as f64 + 0.5) / STEPS as f64;
                let along = |[a, b]: [f64; 2], k: usize| a + (b - a) * share(k);
                let off = (0..STEPS * STEPS)
                    .map(|k| along([low, high], k / STEPS) * along([from, to], k % STEPS) - taken);
                Bound::one_of(ErrorSource::Instant, off.collect())
            }
        }
    }
}

/// Speeds, and instants for each of them, that stand for all.
const STEPS: usize = 20;

/// Returns what moment, blur and rolling shutter may do to a value.
pub(super) fn bounds(input: &MeasureInput, model: &Model, value: f64) -> Vec<Bound> {
    let Some(rate) = rate(input, model, value) else {
        return turning_back(input, model, value).into_iter().collect();
    };
    let smear = rate.size() * input.facts.exposure / 2.0;
    let skew = rate.size() * READOUT * rows_apart(input, model);
    let mut bounds = vec![
        Bound::of(ErrorSource::Blur, [-smear, smear]),
        Bound::of(ErrorSource::Shutter, [-skew, skew]),
    ];
    let (look, taken) = match &model.joined {
        Joined::Peak { .. } => return bounds,
        // A foot that stands still afterwards points where it pointed at the drop.
        Joined::Turn { after, .. } if after.len() > 1 => return bounds,
        Joined::Turn { .. } => (1, 0.0),
        Joined::First => (0, 0.0),
        Joined::Past { ahead } => (0, *ahead),
        Joined::HalfWay { .. } => {
            (0, model.angle_of(&model.best(), 0).map_or(0.0, |first| wrap(value - first)))
        }
    };
    bounds.push(rate.bound(moment(input, look), taken));
    bounds
}

fn rate(input: &MeasureInput, model: &Model, value: f64) -> Option<Rate> {
    if input.facts.speed.is_none() && matches!(model.joined, Joined::Turn { .. }) {
        let lasted = input.looks[1].seconds - input.looks[0].seconds;
        return (lasted > 0.0).then(|| Rate::Seen(value.abs() / lasted));
    }
    Rate::of(input, model)
}

/// Returns how much larger a peak may have been than on the one frame clicked, on which it is
/// largest: it lies no further off than half a frame.
fn turning_back(input: &MeasureInput, model: &Model, value: f64) -> Option<Bound> {
    let Pace::TurnsBack(bend) = input.quantity.pace() else { return None };
    let is_one = model.joined == Joined::First && input.looks.len() < 3;
    let [from, to] = moment(input, 0);
    let most = bend * from.abs().max(to).powi(2) / 2.0;
    let sign = if input.quantity.is_size() && value < 0.0 { -1.0 } else { 1.0 };
    (is_one && is_between_frames(input))
        .then(|| Bound::of(ErrorSource::Instant, [0.0, sign * most]))
}

/// Returns between which instants the moment lies, counted from the frame in seconds.
fn moment(input: &MeasureInput, look: usize) -> [f64; 2] {
    let look = &input.looks[look];
    let ends = input.quantity.read_at().between(look.seconds, look.instant);
    ends.map(|end| end - look.seconds)
}

fn is_between_frames(input: &MeasureInput) -> bool {
    moment(input, 0).iter().any(|end| *end != 0.0)
}

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
