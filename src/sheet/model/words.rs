//! The words for a score, a status and frames: the same on screen, on a page and in a terminal.

use crate::units::Points;

use super::{
    line::{FrameAt, Status},
    sheet::{PartLine, ScoreRange, ScoreSheet},
};

/// Returns a score, or that it is void.
pub fn score_words(score: Option<Points>) -> String {
    score.map_or_else(|| "void".to_owned(), |score| score.to_string())
}

/// What stands in the place of a start value, a score and a range where there is none.
pub(crate) const NO_SCORE: &str = "no score";

/// Returns a start value, or that there is none.
pub fn start_words(start: Option<Points>) -> String {
    start.map_or_else(|| NO_SCORE.to_owned(), |start| start.to_string())
}

/// Returns one frame in words: `frame 118 (3.933 s)`.
pub fn frame_words(at: &FrameAt) -> String {
    format!("frame {} ({:.3} s)", at.frame, at.time_s)
}

/// Returns frames in words, several as from and to; empty where there are none.
pub fn frames_words(frames: &[FrameAt]) -> String {
    match frames {
        [] => String::new(),
        [only] => frame_words(only),
        [first, .., last] if first.frame == last.frame => frame_words(first),
        [first, .., last] => {
            let (from, to) = (first.time_s, last.time_s);
            format!("{} to {} ({from:.1} to {to:.1} s)", first.frame, last.frame)
        }
    }
}

impl ScoreSheet {
    /// Returns the score, or that it is void, or that there is none.
    pub fn score_words(&self) -> String {
        match self.unscored {
            Some(_) => NO_SCORE.to_owned(),
            None => score_words(self.score),
        }
    }

    /// Returns the range over the close calls, or that there is none.
    pub fn range_words(&self) -> String {
        match self.unscored {
            Some(_) => NO_SCORE.to_owned(),
            None => self.score_range.words(self.score),
        }
    }

    /// Returns what stands between the start value and the score: each part that changes it, with what
    /// it comes to.
    pub fn subtotals(&self) -> Vec<[String; 2]> {
        let alone = self.parts.iter().filter(|part| part.opens).count() < 2;
        self.parts.iter().filter_map(|part| part.subtotal(alone)).collect()
    }
}

impl PartLine {
    /// `alone` says that the start value lies in one part.
    fn subtotal(&self, alone: bool) -> Option<[String; 2]> {
        let added = Points::ZERO - self.bonus;
        let label = self.label.clone();
        let is_nothing = |amount: Points| amount == Points::ZERO;
        match (self.opens, is_nothing(self.bonus), is_nothing(self.taken)) {
            (false, true, true) => None,
            (false, true, false) => Some([label, self.taken.taken_off()]),
            (false, false, true) => Some([label, added.taken_off()]),
            (true, true, true) if alone => None,
            (true, false, _) => Some([format!("{label} with bonus"), self.comes_to.to_string()]),
            _ => Some([label, self.comes_to.to_string()]),
        }
    }
}

impl ScoreRange {
    /// Returns the range in words around the score that is shown: one number when nothing is open.
    pub fn words(&self, score: Option<Points>) -> String {
        if score.is_none() {
            return score_words(score);
        }
        let scores = if self.low == self.high {
            self.low.to_string()
        } else {
            format!("{} to {}", self.low, self.high)
        };
        if self.may_be_void { format!("{scores} or void") } else { scores }
    }

    /// Returns whether the close calls leave more than one outcome.
    pub fn is_open(&self) -> bool {
        self.low != self.high || self.may_be_void
    }
}

impl Status {
    /// Returns the status in a word or two.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Met => "met",
            Self::Missed => "missed",
            Self::Close => "close call",
            Self::Taken => "taken",
            Self::NotCounted => "not counted",
        }
    }

    /// Returns the status as one sign, told apart in black and white.
    pub const fn sign(self) -> char {
        match self {
            Self::Met => '✓',
            Self::Missed => '✗',
            Self::Close => '≈',
            Self::Taken => '\u{2212}',
            Self::NotCounted => '○',
        }
    }
}
