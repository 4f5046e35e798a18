use std::fmt;

use serde::{Deserialize, Serialize};

use super::{Magnitude, Unit};

/// An angle in degrees.
///
/// Radians appear only inside `geometry`, as plain `f64` in names that end in `_radians`.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Degrees(pub f64);

impl Degrees {
    /// Returns the angle whose value in radians is `radians`.
    pub(crate) fn from_radians(radians: f64) -> Self {
        Self(radians.to_degrees())
    }

    /// Returns the angle in radians.
    pub fn to_radians(self) -> f64 {
        self.0.to_radians()
    }

    /// Returns whether the value is a number that can be compared with a rule.
    pub fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

impl fmt::Display for Degrees {
    /// Writes at most one decimal and a real minus sign: `78°`, `92.5°`, `−7°`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&Unit::Degree.write(Magnitude(self.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn is_written_with_at_most_one_decimal() {
        assert_eq!(Degrees(78.0).to_string(), "78°");
        assert_eq!(Degrees(92.46).to_string(), "92.5°");
        assert_eq!(Degrees(-0.04).to_string(), "0°");
        assert_eq!(Degrees(-7.0).to_string(), "\u{2212}7°");
    }

    #[test]
    fn half_a_turn_is_pi_radians() {
        assert_eq!(Degrees(180.0).to_radians(), std::f64::consts::PI);
        assert_eq!(Degrees::from_radians(std::f64::consts::FRAC_PI_2), Degrees(90.0));
    }
}
