use serde::Serialize;

use crate::units;

/// One thing of which both the reference and another person said something.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// Code of the other person.
    pub person: String,
    /// Date of the performance or of the sitting, `2026-11-24`; may be empty.
    pub date: String,
    /// Names the thing, the same for every person who was asked.
    pub item: String,
    /// Kind of call.
    pub kind: String,
    /// Where it came up: the element, the requirement, the event.
    pub situation: String,
    /// What both said.
    pub said: Said,
}

/// What the reference and the other person said.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// One of several words.
    Word {
        /// By the reference.
        reference: String,
        /// By the other person.
        other: String,
    },
    /// A number, for statistics only; no score is made of it.
    Number {
        /// What it counts.
        unit: ComparedUnit,
        /// By the reference.
        reference: f64,
        /// By the other person.
        other: f64,
    },
    /// At least one of them left it open, so that either answer is right.
    Open,
}

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum ComparedUnit {
    /// Degrees of an angle.
    Degrees,
    /// Metres of a length.
    Metres,
    /// The distance between the athlete's shoulders.
    ShoulderWidths,
    /// Points of a score.
    Points,
    /// Frames of the clip.
    Frames,
    /// A plain count.
    Count,
}

/// Stands for the call of whoever did not see something at all.
pub(super) const NOT_SEEN: &str = "not seen";
/// Kind of call of which nobody knows how often neither took anything.
pub(super) const DEDUCTION: &str = "deduction";
/// Kind of number.
pub(super) const SCORE: &str = "score";
/// Sort of mark, likewise.
pub(super) const ELEMENT: &str = "element";

impl ComparedUnit {
    /// Returns the number with its unit and a real minus sign, to one decimal of a degree or frame,
    /// two of a length and three of a point.
    pub fn of(self, value: f64) -> String {
        let (decimals, sign) = match self {
            Self::Degrees => (1, units::Unit::Degree.sign()),
            Self::Metres => (2, units::Unit::Metre.sign()),
            Self::ShoulderWidths => (2, units::Unit::ShoulderWidth.sign()),
            Self::Points => (3, ""),
            Self::Frames => (1, " frames"),
            Self::Count => (1, ""),
        };
        units::fixed(value, decimals) + sign
    }
}

impl From<units::Unit> for ComparedUnit {
    fn from(unit: units::Unit) -> Self {
        match unit {
            units::Unit::Degree => Self::Degrees,
            units::Unit::Metre => Self::Metres,
            units::Unit::ShoulderWidth => Self::ShoulderWidths,
        }
    }
}
