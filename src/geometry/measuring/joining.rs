//! How the frames that were clicked on are put together.

use super::{
    model::{Joined, Model},
    passing::Rate,
};
use crate::{
    geometry::{
        HALF_WIDTH, ReadAt,
        angle::wrap,
        error::{moment, propagate::first_order},
        input::MeasureInput,
    },
    units::Magnitude,
};

/// Decides how frames are put together, and says so.
pub(super) fn join_frames(input: &MeasureInput, model: &mut Model) -> Vec<String> {
    match input.quantity.read_at() {
        ReadAt::LiftToDrop => join_turn(input, model),
        ReadAt::Peak => join_peak(input, model),
        ReadAt::HandRelease => join_release(input, model),
        ReadAt::Frame | ReadAt::BothDown => Vec::new(),
    }
}

/// The hands leave between the last frame on which one touches and the first clear of both: the
/// value is read half way between the two.
fn join_release(input: &MeasureInput, model: &mut Model) -> Vec<String> {
    let Some(first) = input.looks.first() else { return Vec::new() };
    let [from, to] = input.quantity.read_at().between(first.seconds, first.instant);
    let next = (1..input.looks.len()).find(|look| (input.looks[*look].seconds - to).abs() < SAME);
    if to - from < SAME {
        return Vec::new();
    }
    if let Some(other) = next {
        model.joined = Joined::HalfWay { other };
        return vec!["Read half way between the last frame on the hands and the next.".to_owned()];
    }
    let Some(rate) = Rate::of(input, model) else { return Vec::new() };
    let ahead = rate.middle() * (to - from) / 2.0;
    model.joined = Joined::Past { ahead };
    let by = if rate.is_usual() { "the usual speed" } else { "the speed known" };
    let ahead = input.quantity.write(Magnitude(ahead));
    vec![format!("The hands leave before the next frame: read {ahead} on, by {by}.")]
}

/// Instants no further apart than this, in seconds, are one.
const SAME: f64 = 1e-6;

fn join_peak(input: &MeasureInput, model: &mut Model) -> Vec<String> {
    let seconds = |look: usize| input.looks[look].seconds;
    let others = || 1..input.looks.len();
    let before = others()
        .filter(|look| seconds(*look) < seconds(0))
        .max_by(|a, b| seconds(*a).total_cmp(&seconds(*b)));
    let after = others()
        .filter(|look| seconds(*look) > seconds(0))
        .min_by(|a, b| seconds(*a).total_cmp(&seconds(*b)));
    let (Some(before), Some(after)) = (before, after) else { return Vec::new() };
    let looks = [before, 0, after];
    let times = looks.map(seconds);
    let falls = model.angle_of(&model.best(), 0).is_some_and(|angle| angle < 0.0);
    let sign = if input.quantity.is_size() && falls { -1.0 } else { 1.0 };
    let angles = |x: &[f64]| -> Option<[f64; 3]> {
        let angle = |look: usize| model.angle_of(x, look).map(|angle| sign * angle);
        Some([angle(before)?, angle(0)?, angle(after)?])
    };
    let height = first_order(&model.inputs, |x| angles(x).map(|a| moment::height(times, a)));
    let is_sure = height.is_some_and(|height| height.value > moment::SURE_PEAK * height.u());
    let peak = angles(&model.best()).and_then(|angles| moment::peak(times, angles));
    match peak {
        Some(peak) if is_sure => {
            model.joined = Joined::Peak { looks, seconds: times, sign };
            let off = (peak.seconds - times[1]) * 1000.0;
            vec![format!("The peak lies {off:+.0} ms from the frame, by three frames.")]
        }
        _ => vec![
            "The three frames are too flat for a peak between them; the frame's own \
                   angle counts."
                .to_owned(),
        ],
    }
}

/// Later frames count as long as the foot has not moved since the drop.
fn join_turn(input: &MeasureInput, model: &mut Model) -> Vec<String> {
    let mut still = vec![1];
    let mut notes = Vec::new();
    for look in 2..input.looks.len() {
        let moved = |x: &[f64]| Some(wrap(model.angle_of(x, look)? - model.angle_of(x, 1)?));
        let is_still = first_order(&model.inputs, moved)
            .is_some_and(|moved| moved.value.abs() <= HALF_WIDTH * moved.u());
        if !is_still {
            still = vec![1];
            notes.push(
                "The foot pivots after the heel drop; the frame of the drop counts.".to_owned(),
            );
            break;
        }
        still.push(look);
    }
    if let Joined::Turn { after, .. } = &mut model.joined {
        *after = still;
    }
    notes
}
