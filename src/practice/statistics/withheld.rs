use serde::{Serialize, Serializer, ser::SerializeMap as _};

use super::interval::Interval;

/// Items below which kappa, correlations and figures of several people get no interval.
///
/// With fewer, what is rare may not have come at all: at 8 items with a rare answer, kappa among
/// several people held in 65 of 100 courses.
pub(super) const FEWEST_ITEMS: usize = 20;

/// People below which a figure that speaks of others like them gets no interval.
pub(super) const FEWEST_PEOPLE: usize = 4;

/// Why a figure stands without an interval. This is the one list of such reasons.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Withheld {
    /// What differs from item to item cannot be seen.
    #[error("too few items for an interval: {found}, it takes {FEWEST_ITEMS}")]
    FewItems {
        /// How many there are.
        found: usize,
    },
    /// What differs from person to person cannot be seen.
    #[error("too few people for an interval: {found}, it takes {FEWEST_PEOPLE}")]
    FewPeople {
        /// How many there are.
        found: usize,
    },
    /// Nobody ever answered otherwise than the others.
    #[error("no two answers differ, so no interval")]
    NothingDiffers,
    /// All differences are one and the same.
    #[error("all differences are the same, so no interval")]
    NoScatter,
    /// Without one item or one person there would be no figure.
    #[error("one item or person decides it, so no interval")]
    HangsOnOne,
}

/// A 95 % interval, or why there is none.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range(pub Result<Interval, Withheld>);

impl Range {
    /// Returns whether there are enough items and people for an interval.
    pub(super) fn enough(items: usize, people: Option<usize>) -> Result<(), Withheld> {
        if items < FEWEST_ITEMS {
            return Err(Withheld::FewItems { found: items });
        }
        match people {
            Some(found) if found < FEWEST_PEOPLE => Err(Withheld::FewPeople { found }),
            _ => Ok(()),
        }
    }
}

impl Serialize for Range {
    /// Writes the interval, or `{"withheld": "why"}`.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match &self.0 {
            Ok(interval) => interval.serialize(serializer),
            Err(why) => {
                let mut map = serializer.serialize_map(Some(1))?;
                map.serialize_entry("withheld", &why.to_string())?;
                map.end()
            }
        }
    }
}
