//! What a book asks of angles.

use super::{
    element::Element,
    scope::{Counts, Scope},
};
use crate::{
    geometry::{Limit, Side},
    marks::Quantity,
    units::{Degrees, Points},
};

/// What is asked of an angle of certain elements.
#[derive(Clone, Debug, PartialEq)]
pub struct Angle {
    /// Id, which a person's call names.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Where it holds.
    pub scope: Scope,
    /// Element ids that it asks of.
    pub elements: Vec<String>,
    /// Tags of elements that it asks of.
    pub tags: Vec<String>,
    /// What is measured.
    pub quantity: Quantity,
    /// On which picture, in the book's words.
    pub moment: String,
    /// What it asks for, in degrees.
    pub target: Degrees,
    /// On which side of the target it is met.
    pub side: Side,
    /// What not meeting it takes away.
    pub gates: Vec<Credit>,
    /// How many degrees short of the target credit is still given.
    pub gate_within: Degrees,
    /// Deductions by how far it is short.
    pub bands: Vec<Band>,
    /// Whether the amount is taken each time.
    pub counts: Counts,
    /// Group for caps.
    pub group: String,
    /// Page in the club's own printed book.
    pub page: String,
}

impl Angle {
    /// Returns whether the rule asks of the element.
    pub fn asks_of(&self, element: &Element) -> bool {
        self.elements.contains(&element.id)
            || self.tags.iter().any(|tag| element.tags.contains(tag))
    }

    /// Returns whether the target itself meets the rule.
    pub const fn inclusive(&self) -> bool {
        self.side.inclusive()
    }

    /// Returns the limit that the target makes.
    pub const fn limit(&self) -> Limit {
        Limit { edge: self.target, side: self.side }
    }

    /// Returns the limit down to which credit is given.
    pub fn gate(&self) -> Limit {
        let within = self.gate_within.0;
        let edge = if self.side.upward() { self.target.0 - within } else { self.target.0 + within };
        // A tolerance is given up to and including its last degree; without one the target's
        // own edge decides.
        let side = match (within > 0.0, self.side.upward()) {
            (false, _) => self.side,
            (true, true) => Side::AtLeast,
            (true, false) => Side::AtMost,
        };
        Limit { edge: Degrees(edge), side }
    }
}

/// A kind of credit that an element earns.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Credit {
    /// It counts as a value part.
    ValuePart,
    /// It serves requirements.
    Requirement,
    /// It is linked to the element after it.
    Connection,
}

/// A deduction for being short of a target by a number of degrees.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Short by more than this, in degrees.
    pub over: Degrees,
    /// Short by up to this, in degrees; the last band has no end.
    pub up_to: Option<Degrees>,
    /// Whether `up_to` itself belongs to this band.
    pub inclusive: bool,
    /// What it costs.
    pub amount: BandAmount,
}

/// What a band costs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BandAmount {
    /// Always the same.
    Flat(Points),
    /// In proportion from the band's beginning to its end, rounded to the grid.
    Proportional {
        /// At the beginning.
        from: Points,
        /// At the end.
        to: Points,
        /// Steps of the amount.
        grid: Points,
    },
}
