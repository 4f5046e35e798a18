//! From a pose to joints in space.

use nalgebra::{Rotation3, Vector3};

use super::body::{self, centre, mass};
use super::pose::{Arm, Leg, Pose};

/// A point or direction in metres: right, away from the camera, up.
pub type V3 = Vector3<f64>;

/// One arm's joints.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct ArmJoints {
    /// Shoulder joint.
    pub shoulder: V3,
    /// Elbow joint.
    pub elbow: V3,
    /// Wrist joint.
    pub wrist: V3,
    /// Middle of the grip or palm.
    pub hand: V3,
    /// Finger tips.
    pub tips: V3,
}

/// One leg's joints.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct LegJoints {
    /// Hip joint.
    pub hip: V3,
    /// Knee joint.
    pub knee: V3,
    /// Ankle joint.
    pub ankle: V3,
    /// Sole under the back of the heel.
    pub heel: V3,
    /// Sole under the ball of the foot.
    pub ball: V3,
    /// End of the toes.
    pub toe: V3,
}

/// All joints. Side 0 is left, 1 is right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skeleton {
    /// How the pelvis is turned: forward, left, up become columns.
    pub pelvis: Rotation3<f64>,
    /// How the upper trunk is turned.
    pub chest: Rotation3<f64>,
    /// How the head is turned.
    pub skull: Rotation3<f64>,
    /// Middle of the hips.
    pub root: V3,
    /// Where the trunk bends.
    pub waist: V3,
    /// Middle of the shoulders.
    pub neck: V3,
    /// Middle of the head.
    pub head: V3,
    /// The arms.
    pub arm: [ArmJoints; 2],
    /// The legs.
    pub leg: [LegJoints; 2],
}

impl Skeleton {
    /// Returns the joints of `pose` with the middle of the hips at `root`.
    pub fn new(pose: &Pose, root: V3) -> Self {
        let pelvis = about_up(pose.facing) * about_left(pose.pitch) * about_up(pose.twist);
        let chest = pelvis * about_left(pose.spine);
        let skull = chest * about_left(pose.neck);
        let waist = root + pelvis * up(body::TRUNK * body::WAIST);
        let neck = waist + chest * up(body::TRUNK * (1.0 - body::WAIST));
        let head = neck + chest * up(body::HEAD_UP * 0.35) + skull * up(body::HEAD_UP * 0.65);
        let arm = [0, 1].map(|s| arm_joints(&pose.arm[s], neck, &chest, s));
        let leg = [0, 1].map(|s| leg_joints(&pose.leg[s], root, &pelvis, s));
        Self { pelvis, chest, skull, root, waist, neck, head, arm, leg }
    }

    /// Returns the same joints moved by `by`.
    #[must_use]
    pub fn moved(mut self, by: V3) -> Self {
        for p in [&mut self.root, &mut self.waist, &mut self.neck, &mut self.head] {
            *p += by;
        }
        for a in &mut self.arm {
            for p in [&mut a.shoulder, &mut a.elbow, &mut a.wrist, &mut a.hand, &mut a.tips] {
                *p += by;
            }
        }
        for l in &mut self.leg {
            let feet = [&mut l.heel, &mut l.ball, &mut l.toe];
            for p in [&mut l.hip, &mut l.knee, &mut l.ankle].into_iter().chain(feet) {
                *p += by;
            }
        }
        self
    }

    /// Returns the point midway between the grips.
    pub fn hands(&self) -> V3 {
        (self.arm[0].hand + self.arm[1].hand) / 2.0
    }

    /// Returns the body's centre of mass.
    pub fn centre_of_mass(&self) -> V3 {
        let mut sum =
            self.head * mass::HEAD + mix(self.root, self.neck, centre::HALF) * mass::TRUNK;
        for a in &self.arm {
            sum += mix(a.shoulder, a.elbow, centre::UPPER_ARM) * mass::UPPER_ARM
                + mix(a.elbow, a.wrist, centre::FOREARM) * mass::FOREARM
                + a.hand * mass::HAND;
        }
        for l in &self.leg {
            sum += mix(l.hip, l.knee, centre::LEG) * mass::THIGH
                + mix(l.knee, l.ankle, centre::LEG) * mass::SHANK
                + mix(l.heel, l.toe, centre::HALF) * mass::FOOT;
        }
        sum
    }

    /// Returns every joint with its name, trunk first, then left and right limbs.
    pub fn named(&self) -> Vec<(String, V3)> {
        let trunk = [("hips", self.root), ("waist", self.waist), ("neck", self.neck)];
        let mut all: Vec<(String, V3)> = trunk
            .into_iter()
            .chain([("head", self.head)])
            .map(|(n, p)| (n.to_owned(), p))
            .collect();
        for (side, a, l) in
            [("left", &self.arm[0], &self.leg[0]), ("right", &self.arm[1], &self.leg[1])]
        {
            let arm = [("shoulder", a.shoulder), ("elbow", a.elbow), ("wrist", a.wrist)];
            let hand = [("hand", a.hand), ("fingertips", a.tips)];
            let leg = [("hip", l.hip), ("knee", l.knee), ("ankle", l.ankle)];
            let foot = [("heel", l.heel), ("ball", l.ball), ("toe", l.toe)];
            let limbs = arm.into_iter().chain(hand).chain(leg).chain(foot);
            all.extend(limbs.map(|(n, p)| (format!("{side}_{n}"), p)));
        }
        all
    }
}

/// Returns the point `share` of the way from `a` to `b`.
pub fn mix(a: V3, b: V3, share: f64) -> V3 {
    a + (b - a) * share
}

/// Returns +1 for the left side, -1 for the right.
pub fn sign(side: usize) -> f64 {
    if side == 0 { 1.0 } else { -1.0 }
}

/// Sets the foot's joints from its ankle, its direction, its sole's and where the toes point.
pub fn foot(leg: &mut LegJoints, along: V3, down: V3, toes: V3) {
    let sole = leg.ankle + down * body::ANKLE;
    leg.heel = sole - along * body::HEEL_BACK;
    leg.ball = sole + along * body::BALL;
    leg.toe = leg.ball + toes * body::TOES;
}

/// Returns the directions of a limb that hangs down at 0 and of its forward side.
///
/// `roll` turns the forward side about the limb.
pub fn limb_axes(flex: f64, out: f64, roll: f64, side: usize) -> (V3, V3) {
    let (sf, cf) = flex.to_radians().sin_cos();
    let (so, co) = out.to_radians().sin_cos();
    let along = V3::new(sf * co, sign(side) * so, -cf * co);
    let front = V3::new(cf, 0.0, sf);
    let (sr, cr) = roll.to_radians().sin_cos();
    (along, front * cr + along.cross(&front) * sr)
}

fn arm_joints(a: &Arm, neck: V3, chest: &Rotation3<f64>, side: usize) -> ArmJoints {
    let (d, e) = limb_axes(a.flex, a.out, a.roll, side);
    let (s, c) = a.elbow.to_radians().sin_cos();
    let (upper, fore) = (chest * d, chest * (d * c + e * s));
    let shoulder = neck + chest * V3::new(0.0, sign(side) * body::SHOULDER_HALF, 0.0);
    let elbow = shoulder + upper * body::UPPER_ARM;
    let wrist = elbow + fore * body::FOREARM;
    ArmJoints {
        shoulder,
        elbow,
        wrist,
        hand: wrist + fore * body::GRIP,
        tips: wrist + fore * body::HAND,
    }
}

fn leg_joints(l: &Leg, root: V3, pelvis: &Rotation3<f64>, side: usize) -> LegJoints {
    let (d, e) = limb_axes(l.flex, l.out, l.roll, side);
    let (sk, ck) = l.knee.to_radians().sin_cos();
    let shin = d * ck - e * sk;
    let hip = root + pelvis * V3::new(0.0, sign(side) * body::HIP_HALF, 0.0);
    let knee = hip + pelvis * d * body::THIGH;
    let ankle = knee + pelvis * shin * body::SHANK;
    let mut joints = LegJoints { hip, knee, ankle, ..LegJoints::default() };
    let front = turned(e * ck + d * sk, shin, l.turn);
    let (sp, cp) = l.point.to_radians().sin_cos();
    let (along, down) = (front * cp + shin * sp, shin * cp - front * sp);
    let (st, ct) = l.toes.to_radians().sin_cos();
    let toes = along * ct - down * st;
    foot(&mut joints, pelvis * along, pelvis * down, pelvis * toes);
    joints
}

/// Returns `v`, which is at right angles to `axis`, turned about it.
fn turned(v: V3, axis: V3, degrees: f64) -> V3 {
    let (s, c) = degrees.to_radians().sin_cos();
    v * c + axis.cross(&v) * s
}

fn up(length: f64) -> V3 {
    V3::new(0.0, 0.0, length)
}

fn about_up(degrees: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&V3::z_axis(), degrees.to_radians())
}

fn about_left(degrees: f64) -> Rotation3<f64> {
    Rotation3::from_axis_angle(&V3::y_axis(), degrees.to_radians())
}
