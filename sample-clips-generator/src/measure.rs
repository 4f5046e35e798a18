//! The true angles of a skeleton, in degrees.

use serde::{Deserialize, Serialize};

use crate::figure::skeleton::mix;
use crate::figure::{Skeleton, V3};
use crate::scene::Scene;

/// How far a sole may be above a surface and still count as standing on it. Metres.
pub const STANDING: f64 = 0.015;

/// True angles of one instant. Pairs are left then right.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Angles {
    /// The lines from the middle of the shoulders, against horizontal.
    pub body_line: BodyLine,
    /// The line from the middle of the hands to the hips against vertical, positive past vertical
    /// in the direction of travel (to the right), -180 to 180.
    pub hands_to_hips: f64,
    /// The line from the middle of the shoulders to the hips against vertical hips over
    /// shoulders: 0 in a handstand, 180 standing.
    pub inverted: f64,
    /// Between the lines from hip joint to ankle, above 180 where the legs go past a straight line.
    pub split: f64,
    /// Each leg's line from hip joint to ankle against straight down, 0 to 180.
    pub kick: [f64; 2],
    /// Where each foot points on the surface it stands on: 0 right, 90 away from the camera;
    /// null in the air.
    pub heading: [Option<f64>; 2],
    /// Bend of each knee, 0 straight.
    pub knee_bend: [f64; 2],
    /// Bend of each elbow, 0 straight.
    pub elbow_bend: [f64; 2],
}

/// Elevation of the line from the middle of the shoulders to the middle of a pair, positive
/// where the pair is higher than the shoulders, -90 to 90.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct BodyLine {
    /// To the hips.
    pub hip: f64,
    /// To the knees.
    pub knee: f64,
    /// To the toes.
    pub toe: f64,
    /// To the heels.
    pub heel: f64,
}

impl BodyLine {
    /// Returns the lowest of the lines.
    pub fn lowest(&self) -> f64 {
        self.hip.min(self.knee).min(self.toe).min(self.heel)
    }
}

/// Returns the true angles of `s`.
pub fn angles(s: &Skeleton, scene: &Scene) -> Angles {
    let [l, r] = &s.leg;
    let shoulders = mix(s.arm[0].shoulder, s.arm[1].shoulder, 0.5);
    let hips = mix(l.hip, r.hip, 0.5);
    let line = |a: V3, b: V3| elevation(mix(a, b, 0.5) - shoulders);
    let from_hands = hips - s.hands();
    Angles {
        body_line: BodyLine {
            hip: line(l.hip, r.hip),
            knee: line(l.knee, r.knee),
            toe: line(l.toe, r.toe),
            heel: line(l.heel, r.heel),
        },
        hands_to_hips: from_hands.x.atan2(from_hands.z).to_degrees(),
        inverted: between(hips - shoulders, V3::z()),
        split: split(s),
        kick: [0, 1].map(|i| between(s.leg[i].ankle - s.leg[i].hip, -V3::z())),
        heading: [0, 1].map(|i| heading(s, i, scene)),
        knee_bend: [0, 1].map(|i| {
            let leg = &s.leg[i];
            between(leg.knee - leg.hip, leg.ankle - leg.knee)
        }),
        elbow_bend: [0, 1].map(|i| {
            let arm = &s.arm[i];
            between(arm.elbow - arm.shoulder, arm.wrist - arm.elbow)
        }),
    }
}

/// Returns the angle between two directions in degrees, 0 to 180.
pub fn between(a: V3, b: V3) -> f64 {
    a.cross(&b).norm().atan2(a.dot(&b)).to_degrees()
}

/// Returns the split of the legs in degrees, above 180 where they go past a straight line.
pub fn split(s: &Skeleton) -> f64 {
    let [l, r] = [0, 1].map(|i| (s.leg[i].ankle - s.leg[i].hip).normalize());
    let angle = between(l, r);
    let below = s.pelvis * -V3::z();
    // A wide split whose middle lies on the trunk's side has gone past 180.
    if angle > 90.0 && (l + r).dot(&below) < 0.0 { 360.0 - angle } else { angle }
}

fn elevation(v: V3) -> f64 {
    v.z.atan2(v.x.hypot(v.y)).to_degrees()
}

fn heading(s: &Skeleton, side: usize, scene: &Scene) -> Option<f64> {
    let foot = &s.leg[side];
    let standing = foot.ball.z - scene.top(foot.ball.x, foot.ball.y) < STANDING;
    let along = foot.toe - foot.heel;
    standing.then(|| along.y.atan2(along.x).to_degrees())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::figure::Pose;

    fn posed(change: impl FnOnce(&mut Pose)) -> Angles {
        let mut pose = Pose::default();
        change(&mut pose);
        angles(&Skeleton::new(&pose, V3::new(0.0, 0.0, 2.0)), &Scene::default())
    }

    /// Set against the keyed angles, which the definitions make equal for straight limbs.
    #[test]
    fn says_what_was_keyed() {
        let a = posed(|p| {
            p.one_leg(0, 70.0, 0.0).one_leg(1, -50.0, 0.0);
        });
        assert!((a.split - 120.0).abs() < 1e-9 && (a.kick[0] - 70.0).abs() < 1e-9);
        let over = posed(|p| {
            p.one_leg(0, 100.0, 0.0).one_leg(1, -95.0, 0.0);
        });
        assert!((over.split - 195.0).abs() < 1e-9);
        let plank = posed(|p| p.pitch = 80.0);
        assert!((plank.body_line.hip + 10.0).abs() < 1e-9, "hips 10 below the shoulders");
        assert!((posed(|p| p.pitch = 180.0).inverted).abs() < 1e-6);
    }
}
