use serde::{Deserialize, Serialize};

/// A value in the unit of the quantity it is of; it is written only together with that unit.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Magnitude(pub f64);

impl Magnitude {
    /// Returns whether it is a number that can be compared with a rule.
    pub fn is_finite(self) -> bool {
        self.0.is_finite()
    }
}

/// What a quantity is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    /// A 360th of a turn.
    Degree,
    /// Metres.
    Metre,
    /// The distance between the athlete's own shoulders in the same picture.
    ShoulderWidth,
}

impl Unit {
    /// Returns the smallest difference that is written.
    pub const fn step(self) -> f64 {
        match self {
            Self::Degree => 0.1,
            Self::Metre | Self::ShoulderWidth => 0.01,
        }
    }

    /// Returns a value with its unit and a real minus sign: `92.5°`, `1.25 m`,
    /// `0.8 × shoulder width`.
    pub fn write(self, value: Magnitude) -> String {
        self.number(value) + self.sign()
    }

    /// Returns a value with what it may be off to either side: `92.5° ± 2°`, `1.25 ± 0.03 m`.
    pub fn write_with(self, value: Magnitude, off: Magnitude) -> String {
        // The sign of degrees is written like a part of the number.
        let between = if self == Self::Degree { self.sign() } else { "" };
        format!("{}{between} ± {}", self.number(value), self.write(off))
    }

    /// Returns what it is in words: `degrees`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Degree => "degrees",
            Self::Metre => "metres",
            Self::ShoulderWidth => "shoulder widths",
        }
    }

    /// Returns what stands behind a number: `°`, ` m`.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Degree => "°",
            Self::Metre => " m",
            Self::ShoulderWidth => " × shoulder width",
        }
    }

    /// Returns the number alone.
    pub fn number(self, value: Magnitude) -> String {
        let steps_to_one = (1.0 / self.step()).round();
        // Adding zero turns -0.0 into 0.0, which nobody wants to read.
        let rounded = (value.0 * steps_to_one).round() / steps_to_one + 0.0;
        let sign = if rounded < 0.0 { "\u{2212}" } else { "" };
        format!("{sign}{}", rounded.abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_is_written_with_its_unit() {
        assert_eq!(Unit::Degree.write(Magnitude(-7.04)), "\u{2212}7°");
        assert_eq!(Unit::Metre.write(Magnitude(1.254)), "1.25 m");
        assert_eq!(Unit::ShoulderWidth.write(Magnitude(0.8)), "0.8 × shoulder width");
        assert_eq!(Unit::Metre.write(Magnitude(-0.001)), "0 m");
    }

    #[test]
    fn what_it_may_be_off_has_the_same_unit() {
        assert_eq!(Unit::Degree.write_with(Magnitude(92.46), Magnitude(2.0)), "92.5° ± 2°");
        assert_eq!(Unit::Metre.write_with(Magnitude(2.0), Magnitude(0.031)), "2 ± 0.03 m");
    }
}
