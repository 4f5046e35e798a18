//! Elements and vaults.

use serde::{Deserialize, Serialize};

use crate::{marks::Facing, units::Points};

/// A skill that has a name.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Element {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Event it belongs to.
    pub event: String,
    /// Class id; empty when it is never a value part.
    pub class: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Code in the club's own printed book.
    pub code: String,
    /// What requirements and rules call it by.
    pub tags: Vec<String>,
    /// Elements of one family are the same element; the id when the file names none.
    pub family: String,
    /// Page in the club's own printed book.
    pub page: String,
    /// Divisions that may use it; empty when all may.
    pub divisions: Vec<String>,
    /// Divisions that may use it although its class is above theirs.
    pub selected: Vec<String>,
    /// Marks it asks for beside its own.
    pub moments: Vec<Moment>,
    /// The element that must follow or go before for this one to count as a value part.
    pub pair: String,
    /// What it becomes where an angle takes its credit; an element id or empty.
    pub becomes: String,
    /// Worth of this element where the score adds elements up, when not the class's.
    pub value: Option<Points>,
    /// What identifies it as a vault.
    pub vault: Option<Vault>,
}

/// What identifies a vault, and its value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Vault {
    /// Start value, where `values` names no other.
    pub value: Points,
    /// Start value by division, where it differs.
    pub values: Vec<(String, Points)>,
    /// Turn before the hands, least and most, in degrees.
    pub before: [u16; 2],
    /// Turn after the hands, least and most, in degrees; nothing when any will do.
    pub after: Option<[u16; 2]>,
    /// Facing at landing; nothing when any will do.
    pub facing: Option<Facing>,
}

impl Vault {
    /// Returns the start value in the division.
    pub(crate) fn value_in(&self, division: &str) -> Points {
        let own = self.values.iter().find(|(id, _)| id == division);
        own.map_or(self.value, |(_, value)| *value)
    }
}

/// A moment that is marked beside its element.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moment {
    /// The first frame on which a hand touches.
    HandContact,
    /// The last frame on which a hand touches.
    HandRelease,
    /// The heel of the turning foot leaves the floor.
    HeelLift,
    /// A heel comes down.
    HeelDrop,
    /// The landing.
    Landing,
}
