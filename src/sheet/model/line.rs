//! One line of a sheet, how it was settled, and the frames that it leads to.

use serde::Serialize;

use crate::{
    marks::Id,
    units::{FrameIndex, Points, Ticks},
};

/// One line of the sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Line {
    /// Id of the rule.
    pub rule: String,
    /// Name of the rule in the book's words.
    pub label: String,
    /// What it costs; zero where it costs nothing.
    pub amount: Points,
    /// How it was settled.
    pub status: Status,
    /// The frames that settle it; of something absent, the span of the routine.
    pub frames: Vec<FrameAt>,
    /// Why, in one plain sentence.
    pub reason: String,
    /// Page in the club's own printed book.
    #[serde(rename = "where", skip_serializing_if = "String::is_empty")]
    pub page: String,
    /// The mark that brought the line about.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mark: Option<Id>,
    /// The element that it belongs to, or the phase of a vault, by name; empty where it is neither's.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub under: String,
}

/// How a question was settled.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Status {
    /// What the rule asks for is there.
    Met,
    /// It is not.
    Missed,
    /// The evidence leaves it open.
    Close,
    /// Taken off.
    Taken,
    /// Seen, but this division does not count it, or a cap or another line covers it.
    #[default]
    NotCounted,
}

/// A frame that a line leads to.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct FrameAt {
    /// Number of the frame.
    pub frame: FrameIndex,
    /// Its time in ticks of the clip.
    pub ticks: Ticks,
    /// Its time in seconds.
    pub time_s: f64,
}

/// Returns a line that costs nothing and says something.
pub(crate) fn remark(
    (rule, label): (&str, &str),
    reason: String,
    frames: Vec<FrameAt>,
    mark: Option<Id>,
) -> Line {
    Line {
        rule: rule.to_owned(),
        label: label.to_owned(),
        amount: Points::ZERO,
        status: Status::NotCounted,
        frames,
        reason,
        page: String::new(),
        mark,
        under: String::new(),
    }
}
