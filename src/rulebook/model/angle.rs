//! What a book asks of angles and lengths.

use crate::{
    geometry::{Limit, Side},
    marks::Quantity,
    units::{Magnitude, Points},
};

use super::{
    element::Element,
    scope::{Counts, Scope},
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
    /// What it asks for, as all below in the quantity's unit.
    pub target: Magnitude,
    /// On which side of the target it is met.
    pub side: Side,
    /// Steps to which the angle is rounded before it is held against anything; 0 for none.
    pub round_to: Magnitude,
    /// Of a turn: what tells how far it went.
    pub decides: Option<Decides>,
    /// Of a turn: what ends it.
    pub ends: TurnEnd,
    /// What not meeting it takes away.
    pub gates: Vec<Credit>,
    /// How far short of the target credit is still given.
    pub gate_within: Magnitude,
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
    pub(crate) fn asks_of(&self, element: &Element) -> bool {
        self.elements.contains(&element.id)
            || self.tags.iter().any(|tag| element.tags.contains(tag))
    }

    /// Returns what it asks for, in words: `at least 90°`.
    pub fn asks(&self) -> String {
        format!("{} {}", self.side.words(), self.quantity.write(self.target))
    }

    /// Returns the limit that the target makes for an angle that is not rounded yet.
    pub fn limit(&self) -> Limit {
        self.unrounded(Limit { edge: self.target, side: self.side })
    }

    /// Returns the angle as it is held against the rule: rounded, halves up, where it says so.
    pub fn rounded(&self, value: Magnitude) -> Magnitude {
        let step = self.round_to.0;
        if step > 0.0 { Magnitude((value.0 / step + 0.5).floor() * step) } else { value }
    }

    /// Returns the limit that an angle meets exactly when its rounded value meets this one.
    pub fn unrounded(&self, limit: Limit) -> Limit {
        let step = self.round_to.0;
        if step <= 0.0 {
            return limit;
        }
        let (edge, side) = match limit.side {
            Side::AtLeast => ((limit.edge.0 / step).ceil() - 0.5, Side::AtLeast),
            Side::Above => ((limit.edge.0 / step).floor() + 0.5, Side::AtLeast),
            Side::AtMost => ((limit.edge.0 / step).floor() + 0.5, Side::Below),
            Side::Below => ((limit.edge.0 / step).ceil() - 0.5, Side::Below),
        };
        Limit { edge: Magnitude(edge * step), side }
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
        self.unrounded(Limit { edge: Magnitude(edge), side })
    }
}

/// What tells how far a turn went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decides {
    /// The foot that turns.
    TurningFoot,
    /// The front one of two feet.
    FrontFoot,
    /// Hips and shoulders.
    HipsAndShoulders,
}

impl Decides {
    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::TurningFoot => "the turning foot",
            Self::FrontFoot => "the front foot",
            Self::HipsAndShoulders => "hips and shoulders",
        }
    }
}

/// What ends a turn.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TurnEnd {
    /// The heel comes down for the first time.
    #[default]
    FirstHeelDrop,
    /// The free foot comes down.
    FreeFootDown,
    /// The second hand is on again.
    SecondHand,
}

impl TurnEnd {
    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FirstHeelDrop => "the first heel drop",
            Self::FreeFootDown => "the free foot coming down",
            Self::SecondHand => "the second hand taking hold",
        }
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

/// A deduction for being short of a target.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Short by more than this.
    pub over: Magnitude,
    /// Short by up to this; the last band has no end.
    pub up_to: Option<Magnitude>,
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
