use serde::{Deserialize, Serialize};

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
}

impl Quantity {
    /// Every quantity, in the order in which the book names them.
    pub const ALL: [Self; 6] =
        [Self::BodyLine, Self::Repulsion, Self::OffVertical, Self::Split, Self::Kick, Self::Turn];

    /// Returns the names of the points to click on each frame, in the order in which they are
    /// asked for.
    pub const fn points(self) -> &'static [&'static str] {
        match self {
            Self::BodyLine | Self::OffVertical => &["shoulder", "hip", "knee", "toe"],
            Self::Repulsion => &["left hand", "right hand", "left hip", "right hip"],
            Self::Split => &["left hip", "left ankle", "right hip", "right ankle"],
            Self::Kick => &["hip", "ankle"],
            Self::Turn => &["heel", "toe"],
        }
    }

    /// Returns whether it is read where it is largest, so that the peak may lie between frames.
    pub const fn is_read_at_its_peak(self) -> bool {
        matches!(self, Self::BodyLine | Self::Split | Self::Kick)
    }

    /// Returns whether a plumb or level line enters it.
    pub const fn needs_upright(self) -> bool {
        !matches!(self, Self::Split | Self::Turn)
    }

    /// Returns whether only its size is shown, without a sign.
    pub const fn is_size(self) -> bool {
        matches!(self, Self::OffVertical | Self::Kick)
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
        }
    }
}
