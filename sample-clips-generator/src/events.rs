//! Finds what happens in a motion from the motion itself.

use crate::clock::Clock;
use crate::contact::{self, PARTS, Touch};
use crate::figure::{Skeleton, Take, V3};
use crate::measure;
use crate::scene::Scene;
use crate::truth::{Event, EventKind};

/// Seconds between looks.
const LOOK: f64 = 0.002;
/// The shortest flight that counts as one, so that running steps do not. Seconds.
const FLIGHT: f64 = 0.2;
/// The shortest time for which a touch or a gap counts. Seconds.
const FLICKER: f64 = 0.012;

/// Something that happens at an instant of the motion.
struct Moment {
    kind: EventKind,
    at: f64,
    part: &'static str,
    on: &'static str,
    degrees: Option<f64>,
}

/// What is seen at one look.
struct Look {
    at: f64,
    skeleton: Skeleton,
    touches: Touch,
}

/// Returns the events of `take` on a clip with `frames` frames shown by `clock`.
pub(crate) fn find(take: &Take, scene: &Scene, clock: &Clock, frames: usize) -> Vec<Event> {
    let count = (take.duration() / LOOK) as usize + 1;
    let looks: Vec<Look> = (0..count)
        .map(|k| {
            let at = k as f64 * LOOK;
            let skeleton = take.skeleton(at);
            Look { at, touches: contact::touches(&skeleton, scene), skeleton }
        })
        .collect();
    let mut moments = touching(&looks);
    moments.extend(heels(&looks, scene));
    moments.extend(flights(&looks));
    moments.extend(kicks(&looks));
    moments.extend(casts(&looks, scene));
    moments.extend(swings(&looks));
    moments.sort_by(|a, b| a.at.total_cmp(&b.at).then(a.kind.cmp(&b.kind)));
    moments.iter().map(|m| event(m, clock, frames)).collect()
}

fn event(m: &Moment, clock: &Clock, frames: usize) -> Event {
    let start = clock.seconds(0);
    let shown = |k: usize| clock.seconds(k) - start;
    let after = (0..frames).find(|k| shown(*k) >= m.at).unwrap_or(frames - 1);
    let before = after.saturating_sub(1);
    let (frame, frame_before) = if m.degrees.is_some() {
        let nearest = if m.at - shown(before) < shown(after) - m.at { before } else { after };
        (nearest, nearest)
    } else {
        (after, before)
    };
    Event {
        kind: m.kind,
        frame: frame as u64,
        frame_before: frame_before as u64,
        time_s: round(m.at + start),
        part: m.part.to_owned(),
        on: m.on.to_owned(),
        degrees: m.degrees.map(round),
    }
}

fn round(v: f64) -> f64 {
    (v * 1e4).round() / 1e4
}

fn touching(looks: &[Look]) -> Vec<Moment> {
    let mut moments = Vec::new();
    for (p, part) in PARTS.iter().enumerate().filter(|(_, part)| !part.ends_with("foot")) {
        let state: Vec<&'static str> = looks.iter().map(|l| l.touches[p]).collect();
        for (k, old, new) in changes(&state) {
            let at = looks[k].at;
            let hand = part.ends_with("hand");
            if !old.is_empty() {
                let kind = if hand { EventKind::HandRelease } else { EventKind::ContactEnd };
                moments.push(Moment { kind, at, part, on: old, degrees: None });
            }
            if !new.is_empty() {
                let kind = if hand { EventKind::HandContact } else { EventKind::Contact };
                moments.push(Moment { kind, at, part, on: new, degrees: None });
                if !hand && matches!(new, "mat" | "floor") {
                    moments.push(Moment {
                        kind: EventKind::Fall,
                        at,
                        part,
                        on: new,
                        degrees: None,
                    });
                }
            }
        }
    }
    moments
}

/// Returns where a state changes for longer than a flicker: (look, old, new).
fn changes<T: Copy + PartialEq>(state: &[T]) -> Vec<(usize, T, T)> {
    let lasting = (FLICKER / LOOK) as usize;
    let mut found = Vec::new();
    let Some(mut now) = state.first().copied() else { return found };
    let mut k = 1;
    while k < state.len() {
        let new = state[k];
        let end = (k + lasting).min(state.len());
        if new != now && state[k..end].iter().all(|s| *s == new) {
            found.push((k, now, new));
            now = new;
        }
        k += 1;
    }
    found
}

fn heels(looks: &[Look], scene: &Scene) -> Vec<Moment> {
    const LIFTED: f64 = 0.012;
    let mut moments = Vec::new();
    for side in 0..2 {
        let part = ["left_foot", "right_foot"][side];
        // None in the air; otherwise whether the heel is up.
        let state: Vec<Option<bool>> = looks
            .iter()
            .map(|l| {
                let foot = &l.skeleton.leg[side];
                let above = |p: V3| p.z - scene.top(p.x, p.y);
                (above(foot.ball).abs() < measure::STANDING).then(|| above(foot.heel) > LIFTED)
            })
            .collect();
        for (k, old, new) in changes(&state) {
            let kind = match (old, new) {
                (Some(false), Some(true) | None) => EventKind::HeelLift,
                (Some(true) | None, Some(false)) => EventKind::HeelDrop,
                _ => continue,
            };
            moments.push(Moment { kind, at: looks[k].at, part, on: "", degrees: None });
        }
    }
    moments
}

fn flights(looks: &[Look]) -> Vec<Moment> {
    let mut moments = Vec::new();
    let mut from = None;
    for (k, look) in looks.iter().enumerate() {
        let clear = contact::flying(&look.touches);
        match (from, clear) {
            (None, true) => from = Some(k),
            (Some(start), false) => {
                from = None;
                if (k - start) as f64 * LOOK >= FLIGHT && start > 0 {
                    flight(&mut moments, looks, start, k);
                }
            }
            _ => {}
        }
    }
    moments
}

fn flight(moments: &mut Vec<Moment>, looks: &[Look], from: usize, to: usize) {
    let mut push = |kind, k: usize, on, degrees| {
        moments.push(Moment { kind, at: looks[k].at, part: "", on, degrees });
    };
    if let Some(on) = contact::foot_on(&looks[from - 1].touches) {
        push(EventKind::TakeOff, from, on, None);
    }
    if let Some(on) = contact::foot_on(&looks[to].touches) {
        push(EventKind::Landing, to, on, None);
    }
    let widest = (from..to)
        .map(|k| (k, measure::split(&looks[k].skeleton)))
        .max_by(|a, b| a.1.total_cmp(&b.1));
    if let Some((k, split)) = widest.filter(|w| w.1 > 60.0) {
        push(EventKind::WidestSplit, k, "", Some(split));
    }
}

fn kicks(looks: &[Look]) -> Vec<Moment> {
    let mut moments = Vec::new();
    for side in 0..2 {
        let feet = ["left_foot", "right_foot"];
        let value = |l: &Look| {
            contact::of(&l.touches, feet[1 - side])?;
            let leg = &l.skeleton.leg[side];
            let free = contact::of(&l.touches, feet[side]).is_none();
            free.then(|| measure::between(leg.ankle - leg.hip, -V3::z()))
        };
        let part = ["left_leg", "right_leg"][side];
        let peak = Peak { kind: EventKind::HighestKick, part, least: 30.0, end: End::Dropped };
        moments.extend(peaks(looks, &peak, value));
    }
    moments
}

fn casts(looks: &[Look], scene: &Scene) -> Vec<Moment> {
    let value = |l: &Look| {
        let s = &l.skeleton;
        let above = s.neck.z > s.hands().z + 0.1;
        let clear = contact::hands_only(&l.touches);
        let angles = (above && clear).then(|| measure::angles(s, scene))?;
        let straight = angles.knee_bend.iter().all(|b| *b < 40.0);
        straight.then(|| angles.body_line.lowest())
    };
    let peak = Peak { kind: EventKind::CastPeak, part: "", least: -75.0, end: End::Dropped };
    peaks(looks, &peak, value)
}

fn swings(looks: &[Look]) -> Vec<Moment> {
    let hang = |l: &Look| {
        let s = &l.skeleton;
        let low = contact::hands_only(&l.touches) && s.neck.z < s.hands().z;
        let d = s.root - s.hands();
        let forward = s.pelvis * V3::x();
        let ahead = d.x * forward.x.signum();
        low.then(|| ahead.atan2(-d.z).to_degrees())
    };
    let peak = Peak { kind: EventKind::SwingPeak, part: "", least: 25.0, end: End::Counted };
    let mut found = peaks(looks, &peak, hang);
    let back = peaks(looks, &peak, |l| hang(l).map(|v| -v));
    found.extend(back.into_iter().map(|m| Moment { degrees: m.degrees.map(|v| -v), ..m }));
    found
}

/// What counts as a peak.
struct Peak {
    kind: EventKind,
    part: &'static str,
    /// Degrees that it must be above.
    least: f64,
    end: End,
}

/// What becomes of a peak when the value is lost before it falls.
#[derive(PartialEq)]
enum End {
    /// It counts: letting go at the end of a swing.
    Counted,
    /// It does not: the other foot left the floor while the leg still rose.
    Dropped,
}

/// Returns the greatest value of each stretch that rises and falls by 2 degrees.
fn peaks(looks: &[Look], peak: &Peak, value: impl Fn(&Look) -> Option<f64>) -> Vec<Moment> {
    const PROMINENT: f64 = 2.0;
    let mut moments = Vec::new();
    let mut push = |(at, degrees): (f64, f64)| {
        if degrees > peak.least {
            let (kind, part) = (peak.kind, peak.part);
            moments.push(Moment { kind, at, part, on: "", degrees: Some(degrees) });
        }
    };
    let mut best: Option<(f64, f64)> = None;
    let mut lowest = f64::INFINITY;
    for look in looks {
        let Some(now) = value(look) else {
            best.take().filter(|_| peak.end == End::Counted).into_iter().for_each(&mut push);
            lowest = f64::INFINITY;
            continue;
        };
        lowest = lowest.min(now);
        if best.is_none_or(|b| now > b.1) && now > lowest + PROMINENT {
            best = Some((look.at, now));
        }
        if best.is_some_and(|b| now < b.1 - PROMINENT) {
            best.take().into_iter().for_each(&mut push);
            lowest = now;
        }
    }
    moments
}
