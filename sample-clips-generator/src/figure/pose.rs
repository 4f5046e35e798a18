//! What is keyframed: where the hips are, how the body is turned, how each joint is bent.

/// One arm's angles in degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Arm {
    /// 0 hangs along the trunk, 90 points forward, 180 is overhead.
    pub flex: f64,
    /// How far the arm is lifted out sideways.
    pub out: f64,
    /// How far the upper arm is turned about its own length.
    pub roll: f64,
    /// 0 is straight.
    pub elbow: f64,
}

/// One leg's angles in degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leg {
    /// 0 in line with the trunk, positive forward.
    pub flex: f64,
    /// How far the leg is lifted out sideways.
    pub out: f64,
    /// How far the thigh is turned about its own length.
    pub roll: f64,
    /// 0 is straight; the shin bends backwards.
    pub knee: f64,
    /// 0 is a foot at right angles to the shin, 80 is pointed.
    pub point: f64,
    /// How far the foot is turned about the shin.
    pub turn: f64,
    /// How far the toes are bent up.
    pub toes: f64,
    /// How far the heel of a planted foot is lifted.
    pub heel: f64,
}

/// A whole pose. Side 0 is left, 1 is right.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pose {
    /// Middle of the hips in metres: right, away, up. Used only where nothing else places the body.
    pub at: [f64; 3],
    /// Where the body faces: 0 to the right, 90 away from the camera. Degrees.
    pub facing: f64,
    /// How far the body is tipped forward; a forward somersault counts up to 360. Degrees.
    pub pitch: f64,
    /// Turn about the body's own long axis, positive to the left. Degrees.
    pub twist: f64,
    /// How far the upper trunk is bent forward on the pelvis. Degrees.
    pub spine: f64,
    /// How far the head is bent forward. Degrees.
    pub neck: f64,
    /// The arms.
    pub arm: [Arm; 2],
    /// The legs.
    pub leg: [Leg; 2],
}

/// How many numbers a pose has.
pub const CHANNELS: usize = 8 + 2 * 4 + 2 * 8;

impl Arm {
    /// Returns the angles as numbers.
    pub fn to_array(self) -> [f64; 4] {
        [self.flex, self.out, self.roll, self.elbow]
    }

    /// Returns the arm with the numbers of [`Arm::to_array`].
    pub fn from_array([flex, out, roll, elbow]: [f64; 4]) -> Self {
        Self { flex, out, roll, elbow }
    }
}

impl Leg {
    /// Returns the angles as numbers.
    pub fn to_array(self) -> [f64; 8] {
        let Self { flex, out, roll, knee, point, turn, toes, heel } = self;
        [flex, out, roll, knee, point, turn, toes, heel]
    }

    /// Returns the leg with the numbers of [`Leg::to_array`].
    pub fn from_array([flex, out, roll, knee, point, turn, toes, heel]: [f64; 8]) -> Self {
        Self { flex, out, roll, knee, point, turn, toes, heel }
    }
}

impl Pose {
    /// Returns the pose as numbers that can be interpolated.
    pub fn to_array(&self) -> [f64; CHANNELS] {
        let [x, y, z] = self.at;
        let trunk = [x, y, z, self.facing, self.pitch, self.twist, self.spine, self.neck];
        let arms = self.arm.iter().flat_map(|a| a.to_array());
        let legs = self.leg.iter().flat_map(|l| l.to_array());
        let mut all = [0.0; CHANNELS];
        for (slot, value) in all.iter_mut().zip(trunk.into_iter().chain(arms).chain(legs)) {
            *slot = value;
        }
        all
    }

    /// Returns the pose that the numbers of [`Pose::to_array`] describe.
    pub fn from_array(v: &[f64; CHANNELS]) -> Self {
        let arm = |i: usize| Arm::from_array([v[i], v[i + 1], v[i + 2], v[i + 3]]);
        let leg = |i: usize| Leg::from_array(std::array::from_fn(|k| v[i + k]));
        Self {
            at: [v[0], v[1], v[2]],
            facing: v[3],
            pitch: v[4],
            twist: v[5],
            spine: v[6],
            neck: v[7],
            arm: [arm(8), arm(12)],
            leg: [leg(16), leg(24)],
        }
    }

    /// Sets both arms.
    pub fn arms(&mut self, flex: f64, out: f64, elbow: f64) -> &mut Self {
        self.arm = [Arm { flex, out, roll: 0.0, elbow }; 2];
        self
    }

    /// Sets flexion and knee bend of both legs and keeps the rest.
    pub fn legs(&mut self, flex: f64, knee: f64) -> &mut Self {
        self.one_leg(0, flex, knee).one_leg(1, flex, knee)
    }

    /// Sets flexion and knee bend of one leg and keeps the rest.
    pub fn one_leg(&mut self, side: usize, flex: f64, knee: f64) -> &mut Self {
        self.leg[side].flex = flex;
        self.leg[side].knee = knee;
        self
    }

    /// Sets how far both feet are pointed.
    pub fn points(&mut self, point: f64) -> &mut Self {
        self.leg[0].point = point;
        self.leg[1].point = point;
        self
    }

    /// Sets how far both heels are lifted while planted.
    pub fn heels(&mut self, heel: f64) -> &mut Self {
        self.leg[0].heel = heel;
        self.leg[1].heel = heel;
        self
    }
}
