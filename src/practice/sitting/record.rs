use serde::{Deserialize, Serialize};

use crate::practice::set::Answer;

/// One line of a sitting's file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Record {
    /// The first line: what is sat, and by whom.
    Begun(Begun),
    /// A look begins. It is written before the first picture, so that nobody has a second one.
    Looked {
        /// The look.
        look: String,
    },
    /// The answers from one look, before any still. They never change.
    Answered {
        /// The look.
        look: String,
        /// The answers, in the order of the questions.
        answers: Vec<Given>,
        /// Pictures that playback dropped.
        dropped: u32,
        /// Whether the time was up.
        time_up: bool,
        /// Whether the look was broken off by a crash.
        interrupted: bool,
    },
    /// The answer after the still, kept apart.
    After {
        /// The look.
        look: String,
        /// The answer; nothing where the person gave none.
        given: Given,
    },
    /// A look that could not be shown.
    Skipped {
        /// The look.
        look: String,
        /// Why, in words.
        why: String,
    },
}

/// What a sitting is of.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Begun {
    /// Id of the set.
    pub set: String,
    /// BLAKE3 hash of the set file's text.
    pub set_hash: String,
    /// Code of the person, or of the group; never a name.
    pub person: String,
    /// Date, `2026-11-24`.
    pub date: String,
    /// One person, or a group that raises hands.
    pub mode: Mode,
    /// Ids of the looks in the order in which they are shown.
    pub looks: Vec<String>,
}

/// Who answers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Mode {
    /// One person.
    #[default]
    Person,
    /// A group that raises its hands, without names.
    Group,
}

/// One answer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Given {
    /// Id of the question within its look.
    pub question: String,
    /// The answer; nothing where there is none.
    pub answer: Option<Answer>,
}
