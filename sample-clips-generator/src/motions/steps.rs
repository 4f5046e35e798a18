//! Running and walking: one foot after the other, each staying where it comes down.

use crate::figure::{Foot, Hold, Root, Script, V3};

/// How steps are taken.
#[derive(Clone, Copy)]
pub(super) struct Gait {
    /// From one footfall to the next. Metres.
    pub length: f64,
    /// From one footfall to the next. Seconds.
    pub time: f64,
    /// Share of a step's time during which the foot is down; above 1 both are down for a while.
    pub down: f64,
    /// Height of the hips over the surface.
    pub hips: f64,
    /// How far the thigh is lifted in front. Degrees.
    pub lift: f64,
    /// How far the swinging knee is bent. Degrees.
    pub fold: f64,
    /// How far the trunk leans forward. Degrees.
    pub lean: f64,
    /// How far the arms swing, are lifted aside, and the elbows bend. Degrees.
    pub arms: (f64, f64, f64),
    /// How far aside of the line the feet are set. Metres.
    pub aside: f64,
    /// Height of the surface.
    pub top: f64,
}

/// A quick run on a runway.
pub(super) const RUN: Gait = Gait {
    length: 0.95,
    time: 0.27,
    down: 0.5,
    hips: 0.69,
    lift: 62.0,
    fold: 95.0,
    lean: 9.0,
    arms: (42.0, 8.0, 85.0),
    aside: 0.03,
    top: 0.02,
};

impl Gait {
    /// Returns the foot of `side` flat with its ball at `x`.
    pub(super) fn plant(&self, side: usize, x: f64) -> Foot {
        let y = if side == 0 { self.aside } else { -self.aside };
        Foot::Plant(V3::new(x, y, self.top), if side == 0 { 5.0 } else { -5.0 })
    }

    /// Adds a step: comes down on `side` with the hips at `x` and pushes off again.
    ///
    /// Begins at the footfall and ends in the air before the next, hips at `x + length`.
    pub(super) fn step(&self, s: &mut Script, side: usize, x: f64) {
        let other = 1 - side;
        let ball = x + self.length * self.down * 0.5 + 0.05;
        let mut feet = [Foot::Free; 2];
        feet[side] = self.plant(side, ball);
        s.hold(Hold::new(Root::Free).feet(feet).ease(0.08).over(self.top));
        let (stance, share) = (self.time * self.down, self.down);
        s.key(stance * 0.5, |p| {
            p.at = [x + self.length * share * 0.5, 0.0, self.top + self.hips - 0.025];
            p.one_leg(other, self.lift * 0.45, self.fold).heels(0.0);
            p.leg[other].point = 40.0;
        });
        s.key(stance * 0.5, |p| {
            p.at = [x + self.length * share, 0.0, self.top + self.hips];
            p.one_leg(other, self.lift, self.fold * 0.75).one_leg(side, -28.0, 12.0);
            p.leg[side].point = 55.0;
            p.leg[side].heel = 30.0;
            self.swing_arms(p, other);
        });
        s.hold(Hold::new(Root::Free).ease(0.08).over(self.top));
        s.key(self.time - stance, |p| {
            p.at = [x + self.length, 0.0, self.top + self.hips];
            p.one_leg(other, 34.0, 18.0).one_leg(side, -12.0, self.fold * 0.8);
            p.leg[other].point = 5.0;
        });
    }

    /// Brings the arm opposite the leading leg forward.
    fn swing_arms(&self, p: &mut crate::figure::Pose, leading: usize) {
        let (swing, out, elbow) = self.arms;
        p.arm[1 - leading].flex = swing;
        p.arm[leading].flex = -swing;
        for arm in &mut p.arm {
            (arm.elbow, arm.out) = (elbow, out);
        }
        p.pitch = self.lean;
    }
}
