//! What a quantity states of itself, once.

use crate::{
    geometry::shape::{AngleShape, MissingPoint, NamedPoints},
    units::Unit,
};

/// Everything that is looked up of a quantity.
pub(super) struct QuantityRow {
    /// Its name in words.
    pub words: &'static str,
    /// Its name where a value stands behind it: with its zero, where the name alone leaves it open.
    pub full_words: &'static str,
    /// The word with which a value is written on the write line.
    pub written: &'static str,
    pub unit: Unit,
    /// Names of the points to click on each frame, in the order in which they are asked for.
    pub points: &'static [&'static str],
    /// Finds these points, or their stand-ins, among those that were clicked.
    pub shape: fn(&NamedPoints<'_>) -> Result<AngleShape, MissingPoint>,
    pub read: ReadAt,
    /// How it changes about that moment.
    pub pace: Pace,
    /// The same in words, for the line that asks for the points.
    pub when: &'static str,
    pub plane: PlaneNeed,
    /// Whether a value below zero means something else than the same above.
    pub is_signed: bool,
    /// Whether it is counted from the direction of travel.
    pub from_travel: bool,
    pub drawn: Drawn,
}

/// On which frame a quantity is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ReadAt {
    /// On the frame that a person chooses.
    Frame,
    /// Where it is largest, so that the peak may lie between frames.
    Peak,
    /// On the last frame on which a hand touches.
    HandRelease,
    /// When both hands, or both feet, are down.
    BothDown,
    /// From the heel lift to the heel drop.
    LiftToDrop,
}

impl ReadAt {
    /// Returns between which instants the moment lies that is seen on a frame shown at `at`, where
    /// `lo` and `hi` are the instants of the frames beside it: the last frame of what was before, the
    /// first of what is then, or the nearest of all.
    pub(crate) fn between(self, at: f64, [lo, hi]: [f64; 2]) -> [f64; 2] {
        match self {
            Self::Frame | Self::Peak => [f64::midpoint(lo, at), f64::midpoint(at, hi)],
            Self::HandRelease => [at, hi],
            Self::BothDown | Self::LiftToDrop => [lo, at],
        }
    }
}

/// How a quantity changes about the moment at which it is read, where nobody states a speed and no
/// frame beside it is clicked. Figures are common practice without a source, unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Pace {
    /// It stands still, or nothing is usual.
    Still,
    /// It goes up, from so many of its units a second to so many.
    Onward([f64; 2]),
    /// It goes by, up or down, with no more than so many of its units a second.
    EitherWay(f64),
    /// It turns back, by no more than so many of its units a second in a second.
    TurnsBack(f64),
}

/// In which plane a quantity is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PlaneNeed {
    /// An upright one along the movement, or the picture alone.
    Along,
    /// Across the movement, so that no plane along it will do: the picture alone.
    Across,
    /// A flat one; without it the picture says nothing.
    Flat,
    /// Either, for metres; another depth than the plane's makes it wrong.
    Metres,
}

/// The small figure that a judge's card draws of a target.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Drawn {
    /// A level line, and one that rises from it.
    AboveLevel,
    /// Two lines that open downward.
    Opening,
    /// An upright line, and one that leans off it.
    OffUpright,
    /// None: a length has no direction.
    Nothing,
}

/// Makes the quantities out of their rows: each a variant, its word in marks files and books, and
/// what is looked up of it.
macro_rules! quantities {
    ($( $(#[$about:meta])* $variant:ident = $word:literal { $($facts:tt)+ } )+) => {
        /// What can be measured on a frame; `docs/measuring.md` has the points and the moment of
        /// each.
        #[derive(
            Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash,
            serde::Serialize, serde::Deserialize,
        )]
        pub enum Quantity {
            $( $(#[$about])* #[serde(rename = $word)] $variant, )+
        }

        impl Quantity {
            /// Every quantity, in the order in which the book names them.
            pub const ALL: [Self; Self::WORDS.len()] = [$(Self::$variant),+];

            /// Their words in marks files and books, in the same order.
            pub(crate) const WORDS: &'static [&'static str] = &[$($word),+];

            pub(super) const fn row(self) -> &'static QuantityRow {
                match self {
                    $( Self::$variant => {
                        const ROW: &QuantityRow = &QuantityRow { $($facts)+ };
                        ROW
                    } )+
                }
            }
        }
    };
}
pub(super) use quantities;
