//! The score sheet as a value: what the window, the report and the command line show.

use serde::Serialize;

use crate::{
    marks::{Id, Quantity, Sheaf},
    units::{Magnitude, Points},
};

use super::{
    beside::{BesidePlan, BesideResult},
    line::{FrameAt, Line, Status},
    unscored::Unscored,
};

/// What every output says beside a score.
pub(crate) const CAUTION: &str =
    "For practice. Not an official score and not for an inquiry; the current rule book decides.";

/// What stands once beside all changes that would win something back.
pub(crate) const READINESS: &str = "A coach decides when a gymnast is ready.";

/// The result: every line leads back to its rule and its frames.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ScoreSheet {
    /// Under which book, edition and text it was scored.
    pub standing: Standing,
    /// Where the deductions begin; nothing where there is no score at all.
    pub start_value: Option<Points>,
    /// The score, or nothing when it is void, which counts 0.000 in totals, or when there is none.
    pub score: Option<Points>,
    /// Why there is no score at all: the book does not know the event or the division.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub unscored: Option<Unscored>,
    /// The parts that add up to the score, before the book's lowest and highest.
    pub parts: Vec<PartLine>,
    /// Lowest and highest score that the close calls leave open.
    pub score_range: ScoreRange,
    /// Whether the exercise counts nothing.
    pub void: bool,
    /// Why it is void, or may be.
    pub void_reasons: Vec<Line>,
    /// The open calls that change the score, and only those.
    pub close_calls: Vec<CloseCall>,
    /// What the routine was given at the meet beside the sheet, part by part; empty where nobody
    /// typed that in.
    pub result: Vec<BesideResult>,
    /// The routine beside its plan, where one was named.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub plan: Option<BesidePlan>,
    /// The elements in order, each with what it counts for.
    pub elements: Vec<ElementLine>,
    /// Value parts shown against asked for, class by class.
    pub value_parts: Vec<ValuePart>,
    /// The requirements of the event and division.
    pub requirements: Vec<RequirementLine>,
    /// What is taken off.
    pub deductions: Vec<Line>,
    /// The smallest changes that would win something back.
    pub win_back: Vec<WinBack>,
    /// What stands once beside all of them.
    pub readiness: &'static str,
    /// What the evaluator could not use or has to say: ids not in the book, a date outside the
    /// edition, moments still to be set.
    pub remarks: Vec<Line>,
    /// What every output says beside a score.
    pub caution: &'static str,
}

/// Under which rules a sheet was made, and for whom.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Standing {
    /// Id of the rule book.
    pub book: String,
    /// Title of the rule book.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// BLAKE3 hash of its text, in hex.
    pub book_hash: String,
    /// Event id.
    pub event: String,
    /// Division id.
    pub division: String,
    /// Code of the athlete.
    pub athlete: String,
    /// Code of the judge.
    pub judge: String,
    /// Date of the performance.
    pub date: String,
}

impl Standing {
    /// Returns enough of the book's hash to tell two texts of one edition apart by eye: the first
    /// twelve digits.
    pub fn short_hash(&self) -> &str {
        self.book_hash.get(..12).unwrap_or(&self.book_hash)
    }
}

/// Lowest and highest score over the close calls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct ScoreRange {
    /// The lowest, leaving void aside; equal to `high` when nothing is open.
    pub low: Points,
    /// The highest.
    pub high: Points,
    /// Whether one of the open calls would make it void.
    pub may_be_void: bool,
}

/// One part of the score.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PartLine {
    /// Its id in the book.
    pub id: String,
    /// Its name.
    pub label: String,
    /// What it is before bonuses and deductions.
    pub begins: Points,
    /// What bonuses add, as far as they count.
    pub bonus: Points,
    /// What is taken off it, as far as it counts.
    pub taken: Points,
    /// What it comes to.
    pub comes_to: Points,
    /// Whether it is part of the start value, also where nothing of it is left.
    #[serde(skip)]
    pub opens: bool,
}

/// One element as it was performed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ElementLine {
    /// The element's mark.
    pub mark: Id,
    /// Element id of the book.
    pub element: String,
    /// Its name, or the id where the book does not have it.
    pub label: String,
    /// Class of the book; empty when it has none.
    pub class: String,
    /// Whether it counts as a value part.
    pub status: Status,
    /// Ids of the requirements that it serves.
    pub serves: Vec<String>,
    /// Frames of the element.
    pub frames: Vec<FrameAt>,
    /// Why it counts or not, in one plain sentence.
    pub reason: String,
    /// What the rules ask about it, answered or waiting.
    pub decisions: Vec<Decision>,
    /// Page in the club's own printed book.
    #[serde(rename = "where", skip_serializing_if = "String::is_empty")]
    pub page: String,
}

/// An angle that a rule asks for at an element, with what is known of it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Decision {
    /// Id of the angle rule.
    pub rule: String,
    /// Name of the angle rule.
    pub label: String,
    /// What it measures.
    pub quantity: Quantity,
    /// What it asks for, in its unit.
    pub target: Magnitude,
    /// The reading, where there is one: value and standard uncertainty in its unit.
    pub reading: Option<(Magnitude, Magnitude)>,
    /// The 95 % interval of the reading, which may reach farther to one side.
    pub interval: Option<[Magnitude; 2]>,
    /// How it was settled; nothing while neither a call nor a reading is there.
    pub status: Option<Status>,
    /// Whether a person's call decided it rather than a reading.
    pub called: bool,
    /// The least and the most that the angle suggests, where the judge chooses the amount.
    pub suggested: Option<[Points; 2]>,
    /// The amount that the judge chose.
    pub chosen: Option<Points>,
    /// The frames on which it was called or read, else those of the element.
    pub frames: Vec<FrameAt>,
    /// What is known, or what is still waited for, in plain sentences.
    pub reason: String,
    /// Page in the club's own printed book.
    #[serde(rename = "where", skip_serializing_if = "String::is_empty")]
    pub page: String,
}

/// Value parts of one class.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ValuePart {
    /// Class of the book.
    pub class: String,
    /// Name of the class.
    pub label: String,
    /// How many the division asks for.
    pub asked: u32,
    /// How many were shown.
    pub shown: u32,
    /// What the missing ones cost.
    pub amount: Points,
    /// Met, missed or close.
    pub status: Status,
    /// The elements that count here.
    pub marks: Vec<Id>,
    /// The frames of those elements; where one is missing, the span of the routine.
    pub frames: Vec<FrameAt>,
    /// In one plain sentence.
    pub reason: String,
    /// Page in the club's own printed book.
    #[serde(rename = "where", skip_serializing_if = "String::is_empty")]
    pub page: String,
}

/// One requirement of the event and division.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RequirementLine {
    /// Id of the requirement.
    pub id: String,
    /// Its name in the book's words.
    pub label: String,
    /// Met, missed or close.
    pub status: Status,
    /// What it costs when missing; zero when met.
    pub amount: Points,
    /// The frames that settle it; when missing, the span of the routine.
    pub frames: Vec<FrameAt>,
    /// The elements that serve it.
    pub marks: Vec<Id>,
    /// Why, in one plain sentence.
    pub reason: String,
    /// Page in the club's own printed book.
    #[serde(rename = "where", skip_serializing_if = "String::is_empty")]
    pub page: String,
}

/// An open call that changes the score.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CloseCall {
    /// What is open: the element and what is asked of it.
    pub label: String,
    /// The mark that it is about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mark: Option<Id>,
    /// The frames to look at again.
    pub frames: Vec<FrameAt>,
    /// Why it is open, in one plain sentence.
    pub reason: String,
}

/// A change of the routine and what it would bring.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WinBack {
    /// What would change, in one plain sentence.
    pub change: String,
    /// What it would earn: the requirements, the value parts, the deductions that go.
    pub wins: Vec<String>,
    /// Whether the athlete is still learning it.
    pub learning: bool,
    /// The start value with it.
    pub start_value: Points,
    /// The score with it, nothing when void.
    pub score: Option<Points>,
    /// The routine with the change: its marks file scores exactly so.
    #[serde(skip)]
    pub changed: Box<Sheaf>,
}

impl ScoreSheet {
    /// Returns the sheet as JSON; amounts are texts with three decimals.
    pub fn to_json(&self) -> serde_json::Value {
        serde_json::to_value(self).unwrap_or_default()
    }
}
