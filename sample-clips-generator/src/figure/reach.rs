//! Bends arms and legs so that hands and feet are where the apparatus is.

use nalgebra::Rotation3;

use super::body;
use super::pose::{Arm, Leg};
use super::skeleton::{self, ArmJoints, LegJoints, Skeleton, V3, sign};

/// Where a planted foot stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plant {
    /// The ball of the foot on the ground, metres.
    pub ball: V3,
    /// Where the foot points: 0 to the right, 90 away. Degrees.
    pub heading: f64,
    /// How far the heel is lifted at least. Degrees.
    pub heel: f64,
}

/// Bends the arm of `side` so that its grip is at `target`, or as near as it reaches.
pub fn hand_to(skeleton: &mut Skeleton, side: usize, target: V3) {
    let chest = skeleton.chest;
    let arm = &mut skeleton.arm[side];
    let along = chest.inverse() * (target - arm.shoulder);
    let flex = along.x.atan2(-along.z);
    // An elbow bends away from where the forearm folds to, and a little outwards.
    let pole = V3::new(-flex.cos(), sign(side) * 0.6, -flex.sin());
    let lower = body::FOREARM + body::GRIP;
    let (elbow, hand) = two_links(arm.shoulder, target, (body::UPPER_ARM, lower), chest * pole);
    let fore = (hand - elbow).normalize();
    arm.elbow = elbow;
    arm.wrist = elbow + fore * body::FOREARM;
    arm.hand = hand;
    // Fingers close around what they hold.
    arm.tips = hand + fore * 0.02;
}

/// Lays the hand of `side` flat: the palm stays, the wrist lies over it, the fingers point `heading`.
pub fn flatten_hand(skeleton: &mut Skeleton, side: usize, heading: V3) {
    let arm = &mut skeleton.arm[side];
    arm.tips = arm.hand + heading * (body::HAND - body::GRIP);
}

/// Bends the leg of `side` so that its foot stands on `plant`.
///
/// Where the leg is too short, the heel is lifted further, as it is in a push-off.
pub fn foot_to(skeleton: &mut Skeleton, side: usize, plant: &Plant) {
    let pelvis = skeleton.pelvis;
    let leg = &mut skeleton.leg[side];
    let (s, c) = plant.heading.to_radians().sin_cos();
    let heading = V3::new(c, s, 0.0);
    let reach = (body::THIGH + body::SHANK) * 0.9995;
    let mut lift = plant.heel;
    let mut axes = lifted(heading, lift);
    while lift < 80.0 && (ankle_over(plant.ball, axes) - leg.hip).norm() > reach {
        lift += 0.25;
        axes = lifted(heading, lift);
    }
    let pole = pelvis * V3::x() + heading * 0.7;
    let target = ankle_over(plant.ball, axes);
    let (knee, ankle) = two_links(leg.hip, target, (body::THIGH, body::SHANK), pole);
    (leg.knee, leg.ankle) = (knee, ankle);
    skeleton::foot(leg, axes.0, axes.1, heading);
}

/// Bends the leg of `side` so far that no point of its foot is lower than `floor`.
pub fn foot_above(skeleton: &mut Skeleton, side: usize, floor: f64) {
    let pelvis = skeleton.pelvis;
    let leg = &mut skeleton.leg[side];
    let lowest = leg.heel.z.min(leg.ball.z).min(leg.toe.z);
    let up = V3::new(0.0, 0.0, (floor - lowest).max(0.0));
    if up.z == 0.0 {
        return;
    }
    let bend = leg.knee - (leg.hip + leg.ankle) / 2.0;
    let pole = bend + pelvis * V3::x() * 0.02;
    let target = leg.ankle + up;
    (leg.knee, leg.ankle) = two_links(leg.hip, target, (body::THIGH, body::SHANK), pole);
    for p in [&mut leg.heel, &mut leg.ball, &mut leg.toe] {
        *p += up;
    }
}

/// Returns the angles that an arm with these joints has.
pub fn arm_angles(arm: &ArmJoints, chest: &Rotation3<f64>, side: usize) -> Arm {
    let d = chest.inverse() * (arm.elbow - arm.shoulder).normalize();
    let fore = chest.inverse() * (arm.wrist - arm.elbow).normalize();
    let (flex, out) = swing(d, side);
    let (_, front) = skeleton::limb_axes(flex, out, 0.0, side);
    Arm { flex, out, roll: roll(d, front, fore), elbow: between(d, fore) }
}

/// Returns the angles that a leg with these joints has; the heel's lift is not among them.
pub fn leg_angles(leg: &LegJoints, pelvis: &Rotation3<f64>, side: usize) -> Leg {
    let local = |from: V3, to: V3| pelvis.inverse() * (to - from).normalize();
    let (d, shin) = (local(leg.hip, leg.knee), local(leg.knee, leg.ankle));
    let (along, toes) = (local(leg.heel, leg.ball), local(leg.ball, leg.toe));
    let (flex, out) = swing(d, side);
    let (_, front) = skeleton::limb_axes(flex, out, 0.0, side);
    let roll = roll(d, front, -shin);
    let (_, front) = skeleton::limb_axes(flex, out, roll, side);
    let knee = between(d, shin);
    let (s, c) = knee.to_radians().sin_cos();
    Leg {
        flex,
        out,
        roll,
        knee,
        point: shin.dot(&along).clamp(-1.0, 1.0).asin().to_degrees(),
        turn: self::roll(shin, front * c + d * s, along),
        toes: between(along, toes),
        heel: 0.0,
    }
}

/// Returns the flexion and sideways lift of a limb in direction `d`.
fn swing(d: V3, side: usize) -> (f64, f64) {
    let out = (d.y * sign(side)).clamp(-1.0, 1.0).asin();
    (d.x.atan2(-d.z).to_degrees(), out.to_degrees())
}

/// Returns by how much `front` is turned about `axis` to lie on the side of `towards`.
///
/// 0 where `towards` is so nearly along the axis that no side can be told.
fn roll(axis: V3, front: V3, towards: V3) -> f64 {
    let (x, y) = (towards.dot(&front), towards.dot(&axis.cross(&front)));
    if x.hypot(y) < 0.01 { 0.0 } else { y.atan2(x).to_degrees() }
}

fn between(a: V3, b: V3) -> f64 {
    a.dot(&b).clamp(-1.0, 1.0).acos().to_degrees()
}

fn lifted(heading: V3, lift: f64) -> (V3, V3) {
    let (s, c) = lift.to_radians().sin_cos();
    (heading * c - V3::z() * s, -V3::z() * c - heading * s)
}

fn ankle_over(ball: V3, (along, down): (V3, V3)) -> V3 {
    ball - along * body::BALL - down * body::ANKLE
}

/// Returns the middle joint and the end of two links from `from` towards `to`, bent towards `pole`.
fn two_links(from: V3, to: V3, (a, b): (f64, f64), pole: V3) -> (V3, V3) {
    let line = to - from;
    let far = line.norm().clamp((a - b).abs() + 1e-6, (a + b) * 0.99999);
    let dir = line.try_normalize(1e-9).unwrap_or_else(V3::z);
    let side = (pole - dir * pole.dot(&dir)).try_normalize(1e-9).unwrap_or_else(V3::x);
    let along = (a * a - b * b + far * far) / (2.0 * far);
    let aside = (a * a - along * along).max(0.0).sqrt();
    (from + dir * along + side * aside, from + dir * far)
}
