//! One thing that costs something.

use crate::{rulebook::Counts, sheet::model::Line, units::Points};

/// One thing that costs something, before caps and replacements.
#[derive(Clone, Debug)]
pub(crate) struct Charge {
    /// The line as it will stand on the sheet.
    pub line: Line,
    /// The element it belongs to.
    pub act: Option<usize>,
    /// Groups for caps and for parts of the score.
    pub groups: Vec<String>,
    /// How often the rule takes its amount.
    pub counts: Counts,
    /// Whether it makes the exercise void.
    pub void: bool,
    /// What is left of its amount by what merges, counts once, replaces and caps.
    pub left: Points,
}

impl Charge {
    /// Returns what a line costs every time, in no group.
    pub(crate) fn new(line: Line, act: Option<usize>) -> Self {
        let (left, groups) = (line.amount, Vec::new());
        Self { line, act, groups, counts: Counts::Each, void: false, left }
    }

    /// Makes it cost something else.
    pub(crate) fn set(&mut self, amount: Points) {
        (self.line.amount, self.left) = (amount, amount);
    }
}
