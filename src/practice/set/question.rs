use serde::{Deserialize, Serialize};

use crate::units::Points;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ask {
    /// Does it score, or is it void?
    Void,
    /// Which vault was it?
    Vault,
    /// Is the element credited?
    Credited,
    /// Which elements were shown, in order?
    Elements,
    /// How many value parts?
    ValueParts,
    /// After which elements was there an extra swing, one name for each?
    ExtraSwings,
    /// Which requirements are missing?
    Missing,
    /// Is the element allowed in her division?
    Allowed,
    /// Where do the deductions begin?
    StartValue,
    /// What is the angle?
    Angle,
    /// Better, same or worse than the last one shown?
    Compare,
    /// How much is taken off here?
    Deduction,
    /// What is the whole score?
    Score,
    /// Connected or broken?
    Connected,
}

/// What an answer looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnswerForm {
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Ids of the book, in order.
    InOrder,
    /// Ids of the book, in any order.
    AnyOrder,
    /// A whole number.
    Count,
    /// Degrees.
    Degrees,
    /// Points.
    Points,
}

/// An answer; what a group raised its hands for is one, too.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// One of the words.
    Word(String),
    /// Ids of the book; none at all is an answer.
    Words(Vec<String>),
    /// A whole number.
    Count(u32),
    /// Degrees.
    Degrees(f64),
    /// Points.
    Points(Points),
    /// How many hands were raised for each of the words, in their order.
    Hands(Vec<u32>),
}

/// One question about a look.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// Id within the look.
    pub id: String,
    /// What is asked.
    pub ask: Ask,
    /// What it is asked about, in words: an element, a place; may be empty.
    pub of: String,
    /// The reference call; nothing where the course has none yet.
    pub reference: Option<Answer>,
    /// Whether the reference is a close call, so that either answer is right.
    pub close: bool,
    /// How far a number may be off and still be right: degrees or points.
    pub within: f64,
    /// Moment of the still, in milliseconds of the clip.
    pub still_ms: Option<i64>,
    /// What was measured or counted, as it is shown: `82° ± 3°`.
    pub number: String,
    /// The line of the sheet or the rule, as it is shown.
    pub line: String,
    /// Why the reference call is what it is.
    pub why: String,
}

/// Whether an answer is right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnswerVerdict {
    /// It is.
    Right,
    /// It is not, or there is none.
    Wrong,
    /// A close call: answered either way it is right.
    EitherWay,
    /// There is no reference call to hold it against.
    Open,
}

impl Ask {
    /// Every question, by its word in a set file.
    pub const ALL: [(&'static str, Self); 14] = [
        ("void", Self::Void),
        ("vault", Self::Vault),
        ("credited", Self::Credited),
        ("elements", Self::Elements),
        ("value-parts", Self::ValueParts),
        ("extra-swings", Self::ExtraSwings),
        ("missing", Self::Missing),
        ("allowed", Self::Allowed),
        ("start-value", Self::StartValue),
        ("angle", Self::Angle),
        ("compare", Self::Compare),
        ("deduction", Self::Deduction),
        ("score", Self::Score),
        ("connected", Self::Connected),
    ];

    /// Returns the question of that word.
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.iter().find(|(known, _)| *known == word).map(|(_, ask)| *ask)
    }

    /// Returns what an answer looks like.
    pub const fn form(self) -> AnswerForm {
        match self {
            Self::Void => AnswerForm::Choice(&["score", "void"]),
            Self::Credited | Self::Allowed => AnswerForm::Choice(&["yes", "no"]),
            Self::Compare => AnswerForm::Choice(&["better", "same", "worse"]),
            Self::Connected => AnswerForm::Choice(&["connected", "broken"]),
            Self::Vault | Self::Elements => AnswerForm::InOrder,
            Self::ExtraSwings | Self::Missing => AnswerForm::AnyOrder,
            Self::ValueParts => AnswerForm::Count,
            Self::Angle => AnswerForm::Degrees,
            Self::StartValue | Self::Deduction | Self::Score => AnswerForm::Points,
        }
    }

    /// Returns how far a number may be off where the set says nothing: degrees or points.
    pub const fn within(self) -> f64 {
        match self.form() {
            AnswerForm::Degrees => 5.0,
            AnswerForm::Points if matches!(self, Self::Score) => 0.2,
            _ => 0.0,
        }
    }

    /// Returns the kind of call in words, for reports.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Void => "score or void",
            Self::Vault => "which vault",
            Self::Credited => "credited or not",
            Self::Elements => "elements in order",
            Self::ValueParts => "value parts",
            Self::ExtraSwings => "extra swings",
            Self::Missing => "missing requirement",
            Self::Allowed => "allowed in the division",
            Self::StartValue => "start value",
            Self::Angle => "angle",
            Self::Compare => "better, same or worse",
            Self::Deduction => "deduction",
            Self::Score => "score",
            Self::Connected => "connected or broken",
        }
    }
}

impl Question {
    /// Returns the question in words.
    pub fn words(&self) -> String {
        let of = if self.of.is_empty() { "it" } else { self.of.as_str() };
        match self.ask {
            Ask::Void => "Does it score, or is it void?".to_owned(),
            Ask::Vault => "Which vault was it?".to_owned(),
            Ask::Credited => format!("Is {of} credited?"),
            Ask::Elements => "Which elements, in order?".to_owned(),
            Ask::ValueParts => "How many value parts?".to_owned(),
            Ask::ExtraSwings => "After which elements was there an extra swing?".to_owned(),
            Ask::Missing => "Which requirements are missing?".to_owned(),
            Ask::Allowed => format!("Is {of} allowed in her division?"),
            Ask::StartValue => "What is the start value?".to_owned(),
            Ask::Angle => format!("How many degrees is {of}?"),
            Ask::Compare => "Better, same or worse than the last one?".to_owned(),
            Ask::Deduction => format!("How much is taken off for {of}?"),
            Ask::Score => "What is the score?".to_owned(),
            Ask::Connected => format!("Is {of} connected or broken?"),
        }
    }

    /// Returns the words to choose from, where the question has any.
    pub const fn choices(&self) -> Option<&'static [&'static str]> {
        match self.ask.form() {
            AnswerForm::Choice(words) => Some(words),
            _ => None,
        }
    }

    /// Returns the reference call, why it is so, and what it says of the answer.
    pub fn told(&self, answer: Option<&Answer>) -> String {
        let verdict = self.verdict(answer).words();
        let reference = match &self.reference {
            Some(reference) => format!("Reference call: {}.", reference.words()),
            None => "There is no reference call yet.".to_owned(),
        };
        let said = [reference.as_str(), self.why.as_str(), verdict];
        said.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ")
    }

    /// Returns whether the answer is right.
    pub fn verdict(&self, answer: Option<&Answer>) -> AnswerVerdict {
        match (&self.reference, answer) {
            _ if self.close => AnswerVerdict::EitherWay,
            // A count of hands is nobody's answer.
            (None, _) | (_, Some(Answer::Hands(_))) => AnswerVerdict::Open,
            (Some(reference), Some(answer)) if self.matches(reference, answer) => {
                AnswerVerdict::Right
            }
            _ => AnswerVerdict::Wrong,
        }
    }

    fn matches(&self, reference: &Answer, answer: &Answer) -> bool {
        match (reference, answer) {
            (Answer::Degrees(a), Answer::Degrees(b)) => (a - b).abs() <= self.within,
            (Answer::Points(a), Answer::Points(b)) => {
                (a.0 - b.0).abs() <= (self.within * 1000.0).round() as i64
            }
            (Answer::Words(a), Answer::Words(b)) if self.ask.form() == AnswerForm::AnyOrder => {
                let sorted = |words: &[String]| {
                    let mut words = words.to_vec();
                    words.sort();
                    words
                };
                sorted(a) == sorted(b)
            }
            (a, b) => a == b,
        }
    }
}

impl AnswerVerdict {
    /// Returns the verdict in words; empty where there is nothing to hold the answer against.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Right => "Right.",
            Self::Wrong => "Not the reference call; it comes back in a later sitting.",
            Self::EitherWay => "A close call: right either way.",
            Self::Open => "",
        }
    }
}

impl Answer {
    /// Returns the answer as it is shown.
    pub fn words(&self) -> String {
        match self {
            Self::Word(word) => word.clone(),
            Self::Words(words) if words.is_empty() => "none".to_owned(),
            Self::Words(words) => words.join(", "),
            Self::Count(count) => count.to_string(),
            Self::Degrees(degrees) => crate::units::Degrees(*degrees).to_string(),
            Self::Points(points) => points.short(),
            Self::Hands(hands) => hands.iter().map(u32::to_string).collect::<Vec<_>>().join(" to "),
        }
    }
}
