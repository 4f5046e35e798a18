//! What is keyframed: where the hips are, how the body is turned, how each joint is bent.

/// One arm's angles in degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Arm {
    /// 0 hangs along the trunk, 90 points forward, 180 is overhead.
    pub flex: f64,
    /// How far the arm is lifted out sideways.
    pub out: f64,
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
    /// 0 is straight; the shin bends backwards.
    pub knee: f64,
    /// 0 is a foot at right angles to the shin, 80 is pointed.
    pub point: f64,
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
pub const CHANNELS: usize = 24;

impl Pose {
    /// Returns the pose as numbers that can be interpolated.
    pub fn to_array(&self) -> [f64; CHANNELS] {
        let [a, b] = self.arm;
        let [c, d] = self.leg;
        [
            self.at[0],
            self.at[1],
            self.at[2],
            self.facing,
            self.pitch,
            self.twist,
            self.spine,
            self.neck,
            a.flex,
            a.out,
            a.elbow,
            b.flex,
            b.out,
            b.elbow,
            c.flex,
            c.out,
            c.knee,
            c.point,
            c.heel,
            d.flex,
            d.out,
            d.knee,
            d.point,
            d.heel,
        ]
    }

    /// Returns the pose that the numbers of [`Pose::to_array`] describe.
    pub fn from_array(v: &[f64; CHANNELS]) -> Self {
        let arm = |i: usize| Arm { flex: v[i], out: v[i + 1], elbow: v[i + 2] };
        let leg = |i: usize| Leg {
            flex: v[i],
            out: v[i + 1],
            knee: v[i + 2],
            point: v[i + 3],
            heel: v[i + 4],
        };
        Self {
            at: [v[0], v[1], v[2]],
            facing: v[3],
            pitch: v[4],
            twist: v[5],
            spine: v[6],
            neck: v[7],
            arm: [arm(8), arm(11)],
            leg: [leg(14), leg(19)],
        }
    }

    /// Sets both arms.
    pub fn arms(&mut self, flex: f64, out: f64, elbow: f64) -> &mut Self {
        self.arm = [Arm { flex, out, elbow }; 2];
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
