//! A rule book as values: what the reader makes of a file and the evaluator works from.

use serde::{Deserialize, Serialize};

use crate::{
    geometry::{Limit, Side},
    marks::{BodyPart, Facing, LandingOn, Manner, Phase, Quantity},
    units::{Degrees, Points},
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

/// Which events and divisions a rule covers; an empty list covers all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scope {
    /// Event ids.
    pub events: Vec<String>,
    /// Division ids.
    pub divisions: Vec<String>,
}

impl Scope {
    /// Returns whether the rule covers the event in the division.
    pub fn covers(&self, event: &str, division: &str) -> bool {
        self.covers_event(event) && self.covers_division(division)
    }

    /// Returns whether the rule covers the event in some division.
    pub fn covers_event(&self, event: &str) -> bool {
        self.events.is_empty() || self.events.iter().any(|id| id == event)
    }

    /// Returns whether the rule covers the division.
    pub fn covers_division(&self, division: &str) -> bool {
        self.divisions.is_empty() || self.divisions.iter().any(|id| id == division)
    }
}

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
    pub fn value_in(&self, division: &str) -> Points {
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

/// How the score of an event and division is built.
#[derive(Clone, Debug, PartialEq)]
pub struct Scoring {
    /// Where it holds.
    pub scope: Scope,
    /// The way of building.
    pub formula: Formula,
    /// The score is never lower than this, unless void.
    pub floor: Points,
    /// Whether one element may serve more than one requirement.
    pub sharing: Sharing,
    /// How often elements of one family count.
    pub same_counts: u32,
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
    /// Values of the best elements plus requirements, plus execution minus deductions.
    Open {
        /// Execution before deductions.
        execution: Points,
        /// How many elements count.
        best: u32,
    },
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

/// How many value parts of each class an event and division ask for.
#[derive(Clone, Debug, PartialEq)]
pub struct ValueParts {
    /// Where it holds.
    pub scope: Scope,
    /// Class by class.
    pub need: Vec<Need>,
    /// Whether a higher class may fill a lower place.
    pub higher_replaces: bool,
    /// Page in the club's own printed book.
    pub page: String,
}

/// Value parts of one class.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// Class id.
    pub class: String,
    /// How many.
    pub count: u32,
    /// What each missing one costs.
    pub price: Points,
}

/// Something a routine must show.
#[derive(Clone, Debug, PartialEq)]
pub struct Requirement {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Where it holds.
    pub scope: Scope,
    /// What it costs when missing.
    pub price: Points,
    /// How many elements it takes.
    pub count: u32,
    /// Element ids that serve it.
    pub elements: Vec<String>,
    /// Elements with one of these tags serve it.
    pub tags: Vec<String>,
    /// Of the elements that serve it, these classes only; empty when any.
    pub classes: Vec<String>,
    /// Whether elements of one family count once.
    pub distinct: bool,
    /// Whether its elements must follow one another directly.
    pub connected: bool,
    /// Angle rules that an element must meet to serve it.
    pub asks: Vec<String>,
    /// Whether each missing element costs the price, or the whole requirement once.
    pub each: bool,
    /// Page in the club's own printed book.
    pub page: String,
}

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

/// How often a rule takes its amount.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Counts {
    /// Every time.
    #[default]
    Each,
    /// Once for each element.
    OncePerElement,
    /// Once in the exercise.
    Once,
}

/// A fault that a judge writes down.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Where it holds.
    pub scope: Scope,
    /// What it costs.
    pub amount: FaultAmount,
    /// How often.
    pub counts: Counts,
    /// Credit that the element loses.
    pub removes: Vec<Credit>,
    /// Group for caps.
    pub group: String,
    /// Page in the club's own printed book.
    pub page: String,
}

/// What a fault costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FaultAmount {
    /// Always the same.
    Flat(Points),
    /// What the judge chooses, up to a limit.
    UpTo {
        /// The limit.
        max: Points,
        /// Steps of the amount.
        grid: Points,
    },
    /// One of these.
    Choice(Vec<Points>),
}

/// What follows when something is marked that is neither element nor fault.
#[derive(Clone, Debug, PartialEq)]
pub struct When {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Where it holds.
    pub scope: Scope,
    /// The mark that brings it about.
    pub trigger: Trigger,
    /// What it costs.
    pub amount: Points,
    /// Whether it makes the exercise void.
    pub void: bool,
    /// How often the amount is taken.
    pub counts: Counts,
    /// Credit that the element loses.
    pub removes: Vec<Credit>,
    /// Group for caps.
    pub group: String,
    /// Page in the club's own printed book.
    pub page: String,
}

/// The mark that brings a rule about; empty lists take any.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trigger {
    /// A fall.
    Fall,
    /// Somebody helped.
    Spot {
        /// In which phases of a vault.
        phases: Vec<Phase>,
    },
    /// A swing that is no element; after these elements only, where the list names some.
    Swing {
        /// Tags of the element before it.
        after: Vec<String>,
    },
    /// The movement stopped.
    Stop,
    /// A body part touched.
    Contact {
        /// Which parts.
        parts: Vec<BodyPart>,
        /// In which phases.
        phases: Vec<Phase>,
        /// In which manner.
        manners: Vec<Manner>,
    },
    /// The landing was made on these.
    Landing {
        /// What on.
        on: Vec<LandingOn>,
    },
}

/// One rule that replaces others at the same element.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Replace {
    /// Where it holds.
    pub scope: Scope,
    /// Rule that stays.
    pub rule: String,
    /// Rules that go.
    pub drops: Vec<String>,
}

/// A limit on what a group of rules can cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cap {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// Where it holds.
    pub scope: Scope,
    /// Group of the rules it limits; empty when every rule is.
    pub group: String,
    /// The limit.
    pub at_most: Points,
    /// Over what the limit is taken.
    pub per: Per,
    /// Rules that lift the limit where they are taken.
    pub lifted_by: Vec<String>,
    /// Page in the club's own printed book.
    pub page: String,
}

/// Over what a limit is taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Per {
    /// Each element.
    Element,
    /// The whole exercise.
    #[default]
    Exercise,
}
