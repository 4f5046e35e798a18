//! One thing that costs something.

use crate::{rulebook::Counts, sheet::model::Line};

/// One thing that costs something, before caps and replacements.
#[derive(Clone, Debug)]
pub(crate) struct Charge {
    /// The line as it will stand on the sheet.
    pub line: Line,
    /// The element it belongs to.
    pub act: Option<usize>,
    /// Group for caps.
    pub group: String,
    /// How often the rule takes its amount.
    pub counts: Counts,
    /// Whether it makes the exercise void.
    pub void: bool,
}
