//! The report as a value: what the command line, the page and the window show.

use serde::Serialize;

use super::{
    compared::ComparedUnit,
    correlation::Correlation,
    extent::ComparedExtent,
    group::{CategoryLine, ValueLine},
    known::Known,
};
use crate::{
    practice::statistics::{Differences, Kappa, Proportion},
    units::Points,
};

/// How well people's calls match a reference and each other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Agreement {
    /// Code of the reference.
    pub reference: String,
    /// Title and edition of every rule book used.
    pub books: Vec<String>,
    /// Each person beside the reference, in the order in which they were named.
    pub people: Vec<Person>,
    /// How much was compared, and how much of it differs.
    pub compared: ComparedExtent,
    /// What was not compared, and why.
    pub not_compared: Vec<String>,
    /// Each kind of call over all people, those that differ most first.
    pub kinds: Vec<KindLine>,
    /// The kinds and situations in which answers differ most.
    pub situations: Vec<Situation>,
    /// How the people agree with each other on calls.
    pub group_calls: Vec<CategoryLine>,
    /// How the people agree with each other on angles and scores.
    pub group_values: Vec<ValueLine>,
    /// What else is to be told of what was compared.
    pub remarks: Vec<String>,
    /// Quick id of the clip and code of the athlete of every routine that was compared.
    #[serde(skip)]
    pub whose: Vec<(String, String)>,
    /// What every output says beside a score.
    pub caution: &'static str,
}

/// One person beside the reference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Person {
    /// Code, never a name.
    pub code: String,
    /// Elements that both have.
    pub found: usize,
    /// Elements at the right place under another name.
    pub renamed: usize,
    /// Elements of the reference that this person does not have.
    pub missed: usize,
    /// Elements that the reference does not have.
    pub invented: usize,
    /// Scores beside the reference's.
    pub scores: Vec<ScoreLine>,
    /// Calls by kind.
    pub kinds: Vec<KindLine>,
    /// Angles, scores and frames by kind.
    pub numbers: Vec<NumberLine>,
    /// Agreement on calls from date to date.
    pub over_time: Vec<OverTime>,
}

/// One kind of call.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct KindLine {
    /// The kind.
    pub kind: String,
    /// Calls left open by one side, right either way and not counted.
    pub open: usize,
    /// How many of those compared are the same, with its interval.
    pub same: Known<Proportion>,
    /// Agreement beyond chance.
    pub kappa: Known<Kappa>,
    /// The commonest way to differ: what the reference said, what the other said, how often.
    pub differs: Option<(String, String, usize)>,
}

/// One kind of number, other minus reference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NumberLine {
    /// The kind.
    pub kind: String,
    /// What it counts.
    pub unit: ComparedUnit,
    /// Bias and limits of agreement.
    pub differences: Known<Differences>,
    /// Correlation and standard error with the reference.
    pub correlation: Known<Correlation>,
    /// Every pair: reference, other.
    pub pairs: Vec<(f64, f64)>,
    /// The same from date to date.
    pub over_time: Vec<NumbersOn>,
}

/// Numbers of one kind on one date, other minus reference.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct NumbersOn {
    /// The date; empty where none is known.
    pub date: String,
    /// Bias and limits of agreement.
    pub differences: Known<Differences>,
}

/// Agreement on calls on one date.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OverTime {
    /// The date; empty where none is known.
    pub date: String,
    /// How many calls are the same.
    pub same: Known<Proportion>,
}

/// Calls of one kind in one situation, over all people.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Situation {
    /// The kind.
    pub kind: String,
    /// The situation.
    #[serde(rename = "situation")]
    pub label: String,
    /// How many are the same.
    pub same: Known<Proportion>,
    /// Answers that differ.
    pub differ: usize,
}

/// One score beside the reference's.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ScoreLine {
    /// Code of the person.
    #[serde(skip)]
    pub person: String,
    /// The routine in words.
    pub routine: String,
    /// The reference's score; nothing when void.
    pub reference: Option<Points>,
    /// This person's score; nothing when void.
    pub score: Option<Points>,
    /// By how much it is higher.
    pub difference: Option<Points>,
    /// Difference that the book allows at the reference's score, where it says so.
    pub allowed: Option<Points>,
    /// Whether the difference lies inside it.
    pub inside: Option<bool>,
}
