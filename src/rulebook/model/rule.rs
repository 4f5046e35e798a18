//! What a routine must show, and what is taken off.

use std::cmp::Ordering;

use crate::{
    marks::{BodyPart, LandingOn, Manner, Phase},
    units::Points,
};

use super::{
    angle::Credit,
    scope::{Counts, Scope},
    series::{Follow, Place},
};

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

impl ValueParts {
    /// Returns whether an element of a class in this place of the order may fill one of that.
    pub fn takes(&self, own: Option<usize>, asked: Option<usize>) -> bool {
        match own.cmp(&asked) {
            Ordering::Equal => true,
            Ordering::Greater => self.higher_replaces,
            Ordering::Less => false,
        }
    }
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
#[allow(clippy::struct_excessive_bools, reason = "each is a switch of its own in the book")]
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
    /// Elements with one of these tags never serve it.
    pub except: Vec<String>,
    /// Whether elements of one family count once.
    pub distinct: bool,
    /// Whether each of the tags counts once.
    pub each_tag: bool,
    /// At least one of its elements has one of these tags; empty when any will do.
    pub with: Vec<String>,
    /// The place in the routine that serves it.
    pub place: Option<Place>,
    /// Requirements whose elements do not serve this one.
    pub apart_from: Vec<String>,
    /// Whether its elements must follow one another.
    pub connected: bool,
    /// What may stand between them where they must.
    pub follow: Follow,
    /// Elements with one of these tags count only as the first of its series.
    pub only_first: Vec<String>,
    /// Elements with one of these tags count only as the last of its series.
    pub only_last: Vec<String>,
    /// Angle rules that an element must meet to serve it; where `with` names tags, only one
    /// element of those must.
    pub asks: Vec<String>,
    /// Whether each missing element costs the price, or the whole requirement once.
    pub each: bool,
    /// Page in the club's own printed book.
    pub page: String,
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
    /// What each amount of a choice stands for; empty when the book does not say.
    pub means: Vec<String>,
    /// Whether it makes the exercise void.
    pub void: bool,
    /// How often.
    pub counts: Counts,
    /// Credit that the element loses.
    pub removes: Vec<Credit>,
    /// Group for caps.
    pub group: String,
    /// Whether it is taken off the whole score.
    pub neutral: bool,
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
    /// So many times the worth of its element, in thousandths.
    OfValue(Points),
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
    /// Whether it is taken off the whole score.
    pub neutral: bool,
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
    /// A fact of the attempt, such as the board, is one of these, or a number outside these.
    Fact {
        /// Name of the fact, as the marks file has it.
        fact: String,
        /// The values that bring the rule about.
        is: Vec<String>,
        /// Below this number, in thousandths.
        below: Option<Points>,
        /// Above this number, in thousandths.
        above: Option<Points>,
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
    /// Whether the worth of the element is added to the limit.
    pub plus_value: bool,
    /// Over what the limit is taken.
    pub per: Per,
    /// Rules that lift the limit where they are taken.
    pub lifted_by: Vec<String>,
    /// Page in the club's own printed book.
    pub page: String,
}

/// Over what a limit is taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Per {
    /// Each phase of a vault.
    Phase,
    /// Each element.
    Element,
    /// The whole exercise.
    #[default]
    Exercise,
}

/// Small faults of one rule that together make a larger one at the same element.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Merge {
    /// Where it holds.
    pub scope: Scope,
    /// The rule.
    pub rule: String,
    /// The small amount.
    pub of: Points,
    /// How many of them.
    pub count: u32,
    /// The amount that they make.
    pub into: Points,
}

/// Elements that may be shown only so often.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TooMany {
    /// Id.
    pub id: String,
    /// Name in the book's words.
    pub label: String,
    /// Where it holds.
    pub scope: Scope,
    /// Element ids.
    pub elements: Vec<String>,
    /// Tags of elements.
    pub tags: Vec<String>,
    /// Class ids.
    pub classes: Vec<String>,
    /// How often they may be shown; 0 when they are forbidden.
    pub at_most: u32,
    /// What each one more costs.
    pub amount: Points,
    /// Whether one more makes the exercise void.
    pub void: bool,
    /// Page in the club's own printed book.
    pub page: String,
}
