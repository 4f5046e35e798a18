//! Rules beside faults: times, bonuses, too few elements, several attempts, limits of the best.

use crate::units::Points;

use super::{angle::Credit, panel::Rounding, scope::Scope};

/// A limit of time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Time {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// Where it holds.
    pub scope: Scope,
    /// What is timed.
    pub of: TimeOf,
    /// Shortest time in milliseconds.
    pub at_least: Option<i64>,
    /// Longest time in milliseconds.
    pub at_most: Option<i64>,
    /// When a signal is given, in milliseconds.
    pub warn_at: Option<i64>,
    /// What it costs.
    pub amount: Points,
    /// Whether it makes the exercise void.
    pub void: bool,
    /// Credit that a timed element loses.
    pub removes: Vec<Credit>,
    /// Group for caps.
    pub group: String,
    /// Whether it is taken off the whole score.
    pub neutral: bool,
    /// Page in the club's own printed book.
    pub page: String,
}

/// What is timed: always from the first frame of a span to its last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TimeOf {
    /// The routine's own span.
    Exercise,
    /// A fall that was marked as a span.
    Fall,
    /// A stop that was marked as a span.
    Stop,
    /// An element that was marked as a span.
    Element {
        /// Element ids.
        elements: Vec<String>,
        /// Tags of elements.
        tags: Vec<String>,
    },
}

/// Something that adds to the score.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bonus {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// Where it holds.
    pub scope: Scope,
    /// Element ids that earn it.
    pub elements: Vec<String>,
    /// Tags of elements that earn it.
    pub tags: Vec<String>,
    /// Name of the fact of the attempt that earns it; empty when elements do.
    pub fact: String,
    /// The values of the fact that earn it; empty when any does.
    pub is: Vec<String>,
    /// What each adds.
    pub amount: Points,
    /// How often it is given.
    pub at_most: u32,
    /// Rules that take it away where they are taken at the same element.
    pub unless: Vec<String>,
    /// Page in the club's own printed book.
    pub page: String,
}

/// What an exercise with too few different elements costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooFew {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// Where it holds.
    pub scope: Scope,
    /// Step by step; the one with the lowest number above the count holds.
    pub steps: Vec<Step>,
    /// Whether it is taken off the whole score.
    pub neutral: bool,
    /// Page in the club's own printed book.
    pub page: String,
}

/// What fewer elements than a number cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Fewer than this.
    pub below: u32,
    /// What it costs.
    pub amount: Points,
}

/// How the scores of several attempts become one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Attempts {
    /// Where it holds.
    pub scope: Scope,
    /// Which way.
    pub take: Take,
    /// Decimals of a mean, at most 3.
    pub digits: u32,
    /// What happens to further decimals.
    pub rounding: Rounding,
}

/// In which way attempts become one score.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Take {
    /// The best one.
    Best,
    /// The mean of all.
    Mean,
    /// All added up.
    Sum,
}

/// A limit on which elements are among the best that count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Limit {
    /// Tags of the elements it is about.
    pub tags: Vec<String>,
    /// At most so many of them count.
    pub at_most: Option<u32>,
    /// So many places are kept for them.
    pub at_least: Option<u32>,
}
