//! A motion that can be asked for the skeleton at any instant.

use super::body;
use super::curve;
use super::pose::{Arm, CHANNELS, Leg, Pose};
use super::reach::{self, Plant};
use super::script::{Foot, Hand, Hold, Root};
use super::skeleton::{Skeleton, V3, mix};

/// Standard gravity, metres per second squared.
pub const GRAVITY: f64 = 9.806_65;

/// From the middle of the hips forward to a bar they lie on.
const HIPS_TO_BAR: f64 = 0.065 * body::HEIGHT;

/// How far below the hips a bar lies in a straight front support, where the arms are straight.
const THIGHS_TO_BAR: f64 = 0.086 * body::HEIGHT;

/// How far apart two instants are from which a speed is taken. Seconds.
const TICK: f64 = 0.002;

/// A motion: keys, holds, and what was worked out where one hold meets the next.
pub struct Take {
    times: Vec<f64>,
    poses: Vec<[f64; CHANNELS]>,
    spans: Vec<Span>,
}

#[derive(Clone)]
struct Span {
    from: f64,
    to: f64,
    hold: Hold,
    /// For a flight the centre of mass, for a glide the root: (place, speed) at both ends.
    path: [(V3, V3); 2],
    /// What a free limb still differs from its keyed angles at both ends.
    arms: [[Arm; 2]; 2],
    legs: [[Leg; 2]; 2],
    /// Where finger tips are from the palm at both ends, where a hand has just held or will hold.
    tips: [[Option<V3>; 2]; 2],
}

/// The speed of the centre of mass just before and just after one hold gives way to the next.
#[derive(Clone, Copy, Debug)]
pub struct Seam {
    /// Seconds from the start.
    pub at: f64,
    /// Metres per second before.
    pub before: V3,
    /// Metres per second after.
    pub after: V3,
}

impl Take {
    /// Works out the joins between holds. `holds` begin at the given seconds, the first at 0.
    pub(super) fn new(
        times: Vec<f64>,
        poses: Vec<[f64; CHANNELS]>,
        holds: Vec<(f64, Hold)>,
    ) -> Self {
        let end = times.last().copied().unwrap_or_default();
        let ends = holds.iter().skip(1).map(|h| h.0).chain([end]).collect::<Vec<_>>();
        let nothing = [(V3::zeros(), V3::zeros()); 2];
        let span = |((from, hold), to): ((f64, Hold), f64)| Span {
            from,
            to,
            hold,
            path: nothing,
            arms: Default::default(),
            legs: Default::default(),
            tips: Default::default(),
        };
        let spans = holds.into_iter().zip(ends).map(span).collect();
        let mut take = Self { times, poses, spans };
        take.join_paths(Root::Glide);
        take.join_limbs();
        take.join_paths(Root::Glide);
        take.join_paths(Root::Flight);
        take
    }

    /// Returns how long the motion lasts in seconds.
    pub fn duration(&self) -> f64 {
        self.times[self.times.len() - 1]
    }

    /// Returns all joints at `t` seconds from the start; the ends hold still.
    pub fn skeleton(&self, t: f64) -> Skeleton {
        let span = self.spans.partition_point(|s| s.from <= t).max(1) - 1;
        self.solve(span, t)
    }

    /// Returns how well the speeds fit where one hold gives way to the next.
    pub fn seams(&self) -> Vec<Seam> {
        let speed = |i: usize, t: f64| {
            let a = self.solve(i, t - TICK).centre_of_mass();
            (self.solve(i, t + TICK).centre_of_mass() - a) / (2.0 * TICK)
        };
        (1..self.spans.len())
            .map(|i| self.spans[i].from)
            .zip(1..)
            .map(|(at, i)| Seam { at, before: speed(i - 1, at - TICK), after: speed(i, at + TICK) })
            .collect()
    }

    fn solve(&self, i: usize, t: f64) -> Skeleton {
        let span = &self.spans[i];
        let pose = self.eased(span, t);
        let mut s = Skeleton::new(&pose, V3::zeros());
        s = s.moved(root(span, &pose, &s, t));
        for side in 0..2 {
            match span.hold.hand[side] {
                Hand::Free => span.open_hand(&mut s, side, t),
                Hand::Grip(at) => reach::hand_to(&mut s, side, at),
                Hand::Flat(at, fingers) => {
                    // The palm lies below the wrist, so the arm aims at the wrist.
                    reach::hand_to(&mut s, side, at);
                    reach::flatten_hand(&mut s, side, fingers);
                }
            }
            let heel = pose.leg[side].heel;
            match span.hold.foot[side] {
                Foot::Free => reach::foot_above(&mut s, side, span.hold.floor),
                Foot::Plant(ball, heading) => {
                    reach::foot_to(&mut s, side, &Plant { ball, heading, heel });
                }
                Foot::Pivot(ball, aside) => {
                    let heading = pose.facing + pose.twist + aside;
                    reach::foot_to(&mut s, side, &Plant { ball, heading, heel });
                }
            }
        }
        s
    }

    fn keyed(&self, t: f64) -> Pose {
        let mut v = [0.0; CHANNELS];
        for (c, out) in v.iter_mut().enumerate() {
            *out = curve::sample(&self.times, |k| self.poses[k][c], t);
        }
        Pose::from_array(&v)
    }

    fn eased(&self, span: &Span, t: f64) -> Pose {
        let mut pose = self.keyed(t);
        for (end, w) in span.weights(t).into_iter().enumerate() {
            for side in 0..2 {
                add_arm(&mut pose.arm[side], &span.arms[end][side], w);
                add_leg(&mut pose.leg[side], &span.legs[end][side], w);
            }
        }
        pose
    }

    fn join_limbs(&mut self) {
        for i in 0..self.spans.len() {
            for (end, other) in [(0, i.checked_sub(1)), (1, Some(i + 1))] {
                let Some(j) = other.filter(|j| *j < self.spans.len()) else { continue };
                let t = if end == 0 { self.spans[i].from } else { self.spans[i].to };
                let (there, keyed) = (self.solve(j, t), self.keyed(t));
                for side in 0..2 {
                    let (mine, theirs) = (self.spans[i].hold, self.spans[j].hold);
                    if mine.hand[side] == Hand::Free && theirs.hand[side] != Hand::Free {
                        let is = reach::arm_angles(&there.arm[side], &there.chest, side);
                        self.spans[i].arms[end][side] = arm_difference(&is, &keyed.arm[side]);
                        let hand = &there.arm[side];
                        self.spans[i].tips[end][side] = Some(hand.tips - hand.hand);
                    }
                    if mine.foot[side] == Foot::Free && theirs.foot[side] != Foot::Free {
                        let is = reach::leg_angles(&there.leg[side], &there.pelvis, side);
                        self.spans[i].legs[end][side] = leg_difference(&is, &keyed.leg[side]);
                    }
                }
            }
        }
    }

    fn join_paths(&mut self, kind: Root) {
        for i in 0..self.spans.len() {
            if self.spans[i].hold.root != kind {
                continue;
            }
            let (from, to) = (self.spans[i].from, self.spans[i].to);
            let ends = [(i.checked_sub(1), from, -TICK), (Some(i + 1), to, TICK)];
            for (end, (other, t, step)) in ends.into_iter().enumerate() {
                let Some(j) = other.filter(|j| *j < self.spans.len()) else { continue };
                let place = |t: f64| {
                    let s = self.solve(j, t);
                    if kind == Root::Flight { s.centre_of_mass() } else { s.root }
                };
                let here = place(t);
                self.spans[i].path[end] = (here, (place(t + step) - here) / step);
            }
        }
    }
}

impl Span {
    /// Returns how much of the difference at each end is left at `t`, 1 to 0.
    fn weights(&self, t: f64) -> [f64; 2] {
        let ease = self.hold.ease.min((self.to - self.from) * 0.5).max(1e-6);
        [t - self.from, self.to - t].map(|apart| 1.0 - curve::smooth(apart / ease))
    }

    /// Opens the fingers of a hand that lets go, closes them before it takes hold.
    fn open_hand(&self, s: &mut Skeleton, side: usize, t: f64) {
        for (end, w) in self.weights(t).into_iter().enumerate() {
            if let Some(held) = self.tips[end][side] {
                let arm = &mut s.arm[side];
                arm.tips = arm.hand + mix(arm.tips - arm.hand, held, w);
            }
        }
    }
}

fn root(span: &Span, pose: &Pose, at_zero: &Skeleton, t: f64) -> V3 {
    let [(p0, v0), (p1, v1)] = span.path;
    let length = span.to - span.from;
    let u = (t - span.from) / length;
    match span.hold.root {
        Root::Free => V3::from(pose.at),
        Root::Hands(at) => at - at_zero.hands(),
        Root::Hips(at) => {
            // Folded over the bar, the body hangs in the crease of the hips.
            let fold = (pose.leg[0].flex + pose.leg[1].flex) / 180.0;
            let below = THIGHS_TO_BAR * (1.0 - curve::smooth(fold));
            at - at_zero.pelvis * V3::new(HIPS_TO_BAR, 0.0, -below)
        }
        Root::Flight => {
            let fall = 0.5 * GRAVITY * (t - span.from) * (span.to - t);
            mix(p0, p1, u) + V3::z() * fall - at_zero.centre_of_mass()
        }
        Root::Glide => {
            V3::from_fn(|k, _| curve::hermite((p0[k], v0[k] * length), (p1[k], v1[k] * length), u))
        }
    }
}

fn add_arm(arm: &mut Arm, by: &Arm, w: f64) {
    let (a, b) = (arm.to_array(), by.to_array());
    *arm = Arm::from_array(std::array::from_fn(|k| a[k] + b[k] * w));
}

fn add_leg(leg: &mut Leg, by: &Leg, w: f64) {
    let (a, b) = (leg.to_array(), by.to_array());
    *leg = Leg::from_array(std::array::from_fn(|k| a[k] + b[k] * w));
}

fn arm_difference(is: &Arm, keyed: &Arm) -> Arm {
    let (a, b) = (is.to_array(), keyed.to_array());
    Arm::from_array(std::array::from_fn(|k| wrapped(a[k] - b[k])))
}

/// The heel's lift is left out: a free foot has none.
fn leg_difference(is: &Leg, keyed: &Leg) -> Leg {
    let (a, b) = (is.to_array(), keyed.to_array());
    Leg { heel: 0.0, ..Leg::from_array(std::array::from_fn(|k| wrapped(a[k] - b[k]))) }
}

fn wrapped(degrees: f64) -> f64 {
    (degrees + 180.0).rem_euclid(360.0) - 180.0
}
