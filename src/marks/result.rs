use serde::{Deserialize, Serialize};

use crate::units::Points;

/// What the routine was given at the meet, typed in to be laid beside the sheet.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct RealResult {
    /// The start value.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub start_value: Option<Points>,
    /// What each judge gave.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub judges: Vec<JudgeScore>,
    /// What the judges' scores came to; 0.000 when the routine was void.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub average: Option<Points>,
}

/// The score that one judge gave.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct JudgeScore {
    /// Code of the judge, never a name.
    pub judge: String,
    /// The score.
    pub score: Points,
}

impl RealResult {
    /// Returns whether nothing was typed in.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}
