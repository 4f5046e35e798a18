//! Lengths and masses of the body's segments.
//!
//! Lengths are fractions of the standing height after Drillis and Contini (1966), masses and
//! centres of mass after Dempster, both as tabled in D. A. Winter, "Biomechanics and Motor
//! Control of Human Movement", chapter 4. The figures are given from memory. The distances
//! of the hip and shoulder joints from the middle, and the split of the foot into heel and ball,
//! are our own choice inside the breadths of that table.

/// The athlete's standing height in metres.
pub const HEIGHT: f64 = 1.36;

/// From the middle of the hips to the middle of the shoulders.
pub const TRUNK: f64 = 0.288 * HEIGHT;
/// How far up the trunk it bends, as a share of its length.
pub const WAIST: f64 = 0.35;
/// From the middle of the shoulders to the middle of the head.
pub const HEAD_UP: f64 = 0.108 * HEIGHT;
/// From the shoulder joint to the elbow.
pub const UPPER_ARM: f64 = 0.186 * HEIGHT;
/// From the elbow to the wrist.
pub const FOREARM: f64 = 0.146 * HEIGHT;
/// From the wrist to the middle of the grip, half of the hand.
pub const GRIP: f64 = 0.054 * HEIGHT;
/// From the wrist to the finger tips.
pub const HAND: f64 = 0.108 * HEIGHT;
/// From the hip joint to the knee.
pub const THIGH: f64 = 0.245 * HEIGHT;
/// From the knee to the ankle.
pub const SHANK: f64 = 0.246 * HEIGHT;
/// From the ankle joint down to the sole.
pub const ANKLE: f64 = 0.039 * HEIGHT;
/// From the ankle joint back to the end of the heel.
pub const HEEL_BACK: f64 = 0.035 * HEIGHT;
/// From the ankle joint forward to the ball of the foot.
pub const BALL: f64 = 0.075 * HEIGHT;
/// From the ball of the foot forward to the toes; heel to toes is 0.152 of the height.
pub const TOES: f64 = 0.042 * HEIGHT;
/// From the middle to a hip joint.
pub const HIP_HALF: f64 = 0.055 * HEIGHT;
/// From the middle to a shoulder joint.
pub const SHOULDER_HALF: f64 = 0.103 * HEIGHT;
/// Height of the hip joint above the sole of a straight leg.
pub const HIP_HEIGHT: f64 = THIGH + SHANK + ANKLE;

/// Shares of the whole mass.
pub mod mass {
    /// Head and neck.
    pub const HEAD: f64 = 0.081;
    /// Trunk with pelvis.
    pub const TRUNK: f64 = 0.497;
    /// One upper arm.
    pub const UPPER_ARM: f64 = 0.028;
    /// One forearm.
    pub const FOREARM: f64 = 0.016;
    /// One hand.
    pub const HAND: f64 = 0.006;
    /// One thigh.
    pub const THIGH: f64 = 0.100;
    /// One shank.
    pub const SHANK: f64 = 0.0465;
    /// One foot.
    pub const FOOT: f64 = 0.0145;
}

/// Where a segment's centre of mass lies, as a share of its length from the joint nearer the trunk.
pub mod centre {
    /// Upper arm.
    pub const UPPER_ARM: f64 = 0.436;
    /// Forearm.
    pub const FOREARM: f64 = 0.430;
    /// Thigh and shank.
    pub const LEG: f64 = 0.433;
    /// Trunk and foot.
    pub const HALF: f64 = 0.5;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_masses_add_up_to_the_whole_body() {
        let pair = mass::UPPER_ARM + mass::FOREARM + mass::HAND;
        let legs = mass::THIGH + mass::SHANK + mass::FOOT;
        assert!((mass::HEAD + mass::TRUNK + 2.0 * (pair + legs) - 1.0).abs() < 1e-9);
    }

    /// Hip at 0.530 and shoulder at 0.818 of the height: Winter, figure of segment lengths.
    #[test]
    fn the_joints_stand_as_high_as_the_table_says() {
        assert!((HIP_HEIGHT / HEIGHT - 0.530).abs() < 1e-9);
        assert!(((HIP_HEIGHT + TRUNK) / HEIGHT - 0.818).abs() < 1e-9);
    }
}
