//! A rule book as values: what the reader makes of a file and the evaluator works from.

use crate::units::Points;

use super::{
    angle::Angle,
    element::Element,
    extra::{Attempts, Bonus, Limit, Time, TooFew},
    panel::Panel,
    rule::{Cap, Fault, Merge, Replace, Requirement, TooMany, ValueParts, When},
    scope::Scope,
    series::{Connection, Text},
};

/// One programme's rules in one edition.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Book {
    /// Id that marks files name.
    pub id: String,
    /// Title in the programme's words.
    pub title: String,
    /// Edition.
    pub edition: String,
    /// First day of validity, `2026-01-01`; empty when open.
    pub valid_from: String,
    /// Last day of validity; empty when open.
    pub valid_to: String,
    /// Name or path that it was read from.
    pub source: String,
    /// BLAKE3 hash of the file's text, in hex.
    pub hash: String,
    /// How open calls are decided for the score that is shown.
    pub open_calls: OpenCalls,
    /// Divisions, easiest first.
    pub divisions: Vec<Division>,
    /// Events in the book's order.
    pub events: Vec<Event>,
    /// Classes of elements, lowest first.
    pub classes: Vec<Class>,
    /// Elements and vaults.
    pub elements: Vec<Element>,
    /// How the score is built, per event and division.
    pub scorings: Vec<Scoring>,
    /// How many value parts are asked for.
    pub value_parts: Vec<ValueParts>,
    /// What a routine must show.
    pub requirements: Vec<Requirement>,
    /// What adds to the score where elements follow one another.
    pub connections: Vec<Connection>,
    /// Texts of compulsory routines.
    pub texts: Vec<Text>,
    /// What is asked of angles.
    pub angles: Vec<Angle>,
    /// Faults a judge writes down.
    pub faults: Vec<Fault>,
    /// What follows from a fall, a spot, a swing, a contact.
    pub whens: Vec<When>,
    /// What replaces what.
    pub replaces: Vec<Replace>,
    /// Limits on what a group of rules can cost.
    pub caps: Vec<Cap>,
    /// Small faults that together make a larger one.
    pub merges: Vec<Merge>,
    /// Elements that may be shown only so often.
    pub too_many: Vec<TooMany>,
    /// What too few elements cost.
    pub too_few: Vec<TooFew>,
    /// Limits of time.
    pub times: Vec<Time>,
    /// What adds to the score.
    pub bonuses: Vec<Bonus>,
    /// How the scores of several attempts become one.
    pub attempts: Vec<Attempts>,
    /// How the scores of several judges become one.
    pub panels: Vec<Panel>,
}

/// How open calls are decided for the score that is shown; the range holds both ways.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum OpenCalls {
    /// In the athlete's favour.
    #[default]
    ForTheAthlete,
    /// As measured; without a reading in the athlete's favour.
    AsMeasured,
}

/// A level of the programme.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Division {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Highest class that counts; a higher one is not allowed. Empty when any counts.
    pub highest_class: String,
    /// Place of `highest_class` in the order of classes.
    pub highest_rank: Option<usize>,
}

/// An apparatus or kind of exercise.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Event {
    /// Id: `vault`, `bars`, `beam` or `floor` as a rule.
    pub id: String,
    /// Name.
    pub name: String,
    /// Divisions that compete on it; empty when all do.
    pub divisions: Vec<String>,
}

/// A class of elements, such as low or high value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Class {
    /// Id.
    pub id: String,
    /// Name.
    pub name: String,
    /// Worth of one element where the score adds elements up.
    pub value: Points,
}

/// How the score of an event and division is built.
#[derive(Clone, Debug, PartialEq)]
pub struct Scoring {
    /// Where it holds.
    pub scope: Scope,
    /// The way of building.
    pub formula: Formula,
    /// The score is never lower than this, unless void.
    pub floor: Points,
    /// The score is never higher than this.
    pub ceiling: Option<Points>,
    /// Which elements may be among the best, for the open formula.
    pub limits: Vec<Limit>,
    /// Whether one element may serve more than one requirement.
    pub sharing: Sharing,
    /// How often elements of one family count.
    pub same_counts: u32,
    /// Where elements of one family count again.
    pub same_again: SameAgain,
    /// What an element not allowed in the division brings.
    pub not_allowed: Consequence,
    /// What a vault that is not in the list brings.
    pub unlisted_vault: Consequence,
    /// What a vault other than the one announced brings.
    pub not_as_announced: Consequence,
}

/// The four ways of building a score.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Formula {
    /// A start value minus what is missing, minus deductions.
    StartMinus {
        /// Start value before anything is missing; a vault brings its own.
        start: Points,
    },
    /// A start value minus what is missing, minus half of the deductions.
    StartMinusHalf {
        /// As above.
        start: Points,
    },
    /// Buckets filled apart and added: what is missing empties the first two, deductions the last.
    Buckets {
        /// Full bucket of value parts.
        value_parts: Points,
        /// Full bucket of requirements.
        requirements: Points,
        /// Full bucket of artistry; faults of the group `artistry` empty it.
        artistry: Points,
        /// Full bucket of execution.
        execution: Points,
    },
    /// Values of the best elements, plus the prices of requirements that are met, plus execution
    /// minus deductions.
    Open {
        /// Execution before deductions.
        execution: Points,
        /// How many elements count.
        best: u32,
        /// The most that elements and requirements make together.
        at_most: Option<Points>,
    },
}

/// Where elements of one family count again, as far as `same_counts` allows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SameAgain {
    /// Anywhere.
    #[default]
    Anywhere,
    /// Only with another element before or after it than every time before.
    OtherConnection,
}

/// Whether one element may serve more than one requirement.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sharing {
    /// It may.
    #[default]
    Many,
    /// It serves one.
    One,
}

/// What follows from something the book does not want.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Consequence {
    /// It is said and costs nothing.
    #[default]
    NoCredit,
    /// An amount off.
    Amount(Points),
    /// The exercise counts nothing.
    Void,
}
