//! Which part of the body touches what.

use crate::figure::body::HEIGHT;
use crate::figure::skeleton::mix;
use crate::figure::{Skeleton, V3};
use crate::scene::{Scene, Solid};

/// The parts that are looked at.
pub const PARTS: [&str; 12] = [
    "left_hand",
    "right_hand",
    "left_foot",
    "right_foot",
    "left_knee",
    "right_knee",
    "left_elbow",
    "right_elbow",
    "hips",
    "back",
    "chest",
    "head",
];

/// For each part what it touches, empty for nothing.
pub type Touch = [&'static str; PARTS.len()];

/// How near counts as touching. Metres.
const NEAR: f64 = 0.012;

/// Returns what each part touches.
pub fn touches(s: &Skeleton, scene: &Scene) -> Touch {
    PARTS.map(|part| {
        let balls = balls(s, part);
        let near =
            |solid: &&Solid| balls.iter().any(|(p, r)| solid.distance(*p) < r * HEIGHT + NEAR);
        // The thing named last lies on top of those before it.
        let touched = scene.solids.iter().rev().filter(near).map(|solid| solid.name).next();
        let low = balls.iter().any(|(p, r)| p.z < r * HEIGHT + NEAR);
        touched.unwrap_or(if low { "floor" } else { "" })
    })
}

/// Returns what `part` touches.
pub fn of(touches: &Touch, part: &str) -> Option<&'static str> {
    let i = PARTS.iter().position(|p| *p == part)?;
    Some(touches[i]).filter(|on| !on.is_empty())
}

/// Returns what a foot stands on.
pub fn foot_on(touches: &Touch) -> Option<&'static str> {
    of(touches, "left_foot").or_else(|| of(touches, "right_foot"))
}

/// Returns whether neither hand nor foot touches anything; a brush does not end a flight.
pub fn flying(touches: &Touch) -> bool {
    touches[..4].iter().all(|on| on.is_empty())
}

/// Returns whether both hands hold a bar and nothing else touches anything.
pub fn hands_only(touches: &Touch) -> bool {
    touches[..2].iter().all(|on| on.ends_with("bar")) && touches[2..].iter().all(|on| on.is_empty())
}

/// The part's balls, radii as shares of the height.
fn balls(s: &Skeleton, part: &str) -> Vec<(V3, f64)> {
    let side = usize::from(part.starts_with("right"));
    let (a, l) = (&s.arm[side], &s.leg[side]);
    match part.rsplit('_').next().unwrap_or(part) {
        "hand" => vec![(a.hand, 0.008)],
        "foot" => vec![(l.heel, 0.0), (l.ball, 0.0), (l.toe, 0.0)],
        "knee" => vec![(l.knee, 0.031)],
        "elbow" => vec![(a.elbow, 0.018)],
        "hips" => {
            let groin = |i: usize| mix(s.leg[i].hip, s.leg[i].knee, 0.33);
            vec![(s.root, 0.055), (mix(groin(0), groin(1), 0.5), 0.048)]
        }
        "back" => vec![(mix(s.waist, s.neck, 0.7) + s.chest * V3::new(-0.01, 0.0, 0.0), 0.05)],
        "chest" => vec![(mix(s.waist, s.neck, 0.7) + s.chest * V3::new(0.02, 0.0, 0.0), 0.05)],
        _ => vec![(s.head, 0.058)],
    }
}
