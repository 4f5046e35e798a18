//! Elements that follow one another, and the text of a compulsory routine.

use crate::units::Points;

use super::scope::Scope;

/// What may stand between two elements that follow one another, and what may not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Follow {
    /// Elements with one of these tags may stand between; empty for a direct connection only.
    pub links: Vec<String>,
    /// Marks that break the series.
    pub breaks: Vec<Breaker>,
    /// Longest time between two elements, in milliseconds.
    pub gap: Option<i64>,
}

/// A mark that breaks a series.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Breaker {
    /// A stop.
    Stop,
    /// A fall.
    Fall,
    /// A swing that is no element.
    Swing,
    /// Help.
    Spot,
}

/// Elements that follow one another and add to the score.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Connection {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Where it holds.
    pub scope: Scope,
    /// A tag for each element, in their order.
    pub series: Vec<String>,
    /// Whether they may come in any order.
    pub any_order: bool,
    /// What may stand between.
    pub follow: Follow,
    /// What it adds.
    pub amount: Points,
    /// How often it is given; nothing for no limit.
    pub at_most: Option<u32>,
    /// Page in the club's own printed book.
    pub page: String,
}

/// The elements of a compulsory routine, and what a routine that differs from it costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// Where it holds.
    pub scope: Scope,
    /// Element ids in their order.
    pub elements: Vec<String>,
    /// What an element left out costs.
    pub left_out: Points,
    /// And how many times its own worth, in thousandths.
    pub left_out_value: Points,
    /// What an element that is not in the text costs.
    pub added: Points,
    /// What an element in another place of the order costs.
    pub swapped: Points,
    /// Whether it is taken off the whole score.
    pub neutral: bool,
    /// Page in the club's own printed book.
    pub page: String,
}

/// Which place of a routine an element must have.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Place {
    /// The first.
    First,
    /// The last.
    Last,
}
