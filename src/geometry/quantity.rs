use serde::{Deserialize, Serialize};

use super::Lies;
use crate::units::{Magnitude, Unit};

/// What can be measured on a frame; `docs/measuring.md` has the points and the moment of each.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Quantity {
    /// Shoulder to the lowest body part against horizontal, positive above it, in degrees.
    BodyLine,
    /// Hands to hips against vertical at release, positive past it in the direction of travel.
    Repulsion,
    /// Body or trunk against vertical, in degrees off it.
    OffVertical,
    /// Between the legs, hip to ankle, in degrees.
    Split,
    /// Free leg up from hanging straight down, in degrees.
    Kick,
    /// Turned from heel lift to heel drop, in degrees.
    Turn,
    /// Trunk alone, shoulder to hip, against vertical, in degrees off it: the legs do not enter.
    Trunk,
    /// How far a joint is bent, in degrees; 0 is straight.
    Bend,
    /// How far the body is turned about its length against the travel, by both hands or feet on
    /// their surface, in degrees; 90 is a quarter.
    Twist,
    /// Between two points of a plane, in metres.
    Length,
    /// From a line of a plane to a point beside it, in metres.
    Offset,
    /// Between the knees, seen from in front or behind, in shoulder widths.
    KneeDistance,
}

impl Quantity {
    /// Every quantity, in the order in which the book names them.
    pub const ALL: [Self; 12] = [
        Self::BodyLine,
        Self::Repulsion,
        Self::OffVertical,
        Self::Split,
        Self::Kick,
        Self::Turn,
        Self::Trunk,
        Self::Bend,
        Self::Twist,
        Self::Length,
        Self::Offset,
        Self::KneeDistance,
    ];

    /// Returns the names of the points to click on each frame, in the order in which they are
    /// asked for.
    pub const fn points(self) -> &'static [&'static str] {
        match self {
            Self::BodyLine | Self::OffVertical => &["shoulder", "hip", "knee", "toe"],
            Self::Repulsion => &["left hand", "right hand", "left hip", "right hip"],
            Self::Split => &["left hip", "left ankle", "right hip", "right ankle"],
            Self::Kick => &["hip", "ankle"],
            Self::Turn => &["heel", "toe"],
            Self::Trunk => &["shoulder", "hip"],
            Self::Bend => &["near end", "joint", "far end"],
            Self::Twist => &["left hand or foot", "right hand or foot"],
            Self::Length => &["near end", "far end"],
            Self::Offset => &["one end of the line", "other end of the line", "point"],
            Self::KneeDistance => &["left knee", "right knee", "left shoulder", "right shoulder"],
        }
    }

    /// Returns whether it is read where it is largest, so that the peak may lie between frames.
    pub(crate) const fn is_read_at_its_peak(self) -> bool {
        matches!(self, Self::BodyLine | Self::Split | Self::Kick | Self::KneeDistance)
    }

    /// Returns whether its value is counted from the direction of travel.
    pub(crate) const fn needs_travel(self) -> bool {
        matches!(self, Self::Repulsion | Self::Twist)
    }

    /// Returns which way the plane lies in which it is measured; nothing where either will do.
    pub const fn lies(self) -> Option<Lies> {
        match self {
            Self::Turn | Self::Twist => Some(Lies::Flat),
            Self::Length | Self::Offset => None,
            _ => Some(Lies::Upright),
        }
    }

    /// Returns whether it lies across the movement, so that no plane along it will do.
    pub(crate) const fn lies_across(self) -> bool {
        matches!(self, Self::KneeDistance)
    }

    /// Returns whether the picture says nothing of it without a plane.
    pub(crate) const fn needs_a_plane(self) -> bool {
        matches!(self, Self::Turn | Self::Twist | Self::Length | Self::Offset)
    }

    /// Returns whether another depth than the plane's makes it wrong: planes at other depths are
    /// parallel, so that angles stay.
    pub(crate) const fn needs_depth(self) -> bool {
        matches!(self, Self::Length | Self::Offset)
    }

    /// Returns what it is counted in.
    pub const fn unit(self) -> Unit {
        match self {
            Self::Length | Self::Offset => Unit::Metre,
            Self::KneeDistance => Unit::ShoulderWidth,
            _ => Unit::Degree,
        }
    }

    /// Returns a value of it with its unit.
    pub fn write(self, value: Magnitude) -> String {
        self.unit().write(value)
    }

    /// Returns whether only its size is shown, without a sign.
    pub const fn is_size(self) -> bool {
        !matches!(self, Self::BodyLine | Self::Repulsion | Self::Split | Self::Turn)
    }

    /// Returns its name in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::BodyLine => "body line",
            Self::Repulsion => "repulsion",
            Self::OffVertical => "off vertical",
            Self::Split => "split",
            Self::Kick => "kick",
            Self::Turn => "turn",
            Self::Trunk => "trunk off vertical",
            Self::Bend => "joint bend",
            Self::Twist => "twist",
            Self::Length => "length",
            Self::Offset => "offset",
            Self::KneeDistance => "knee distance",
        }
    }
}
