//! One evaluation, and the sheet over everything that is open.

pub(crate) mod close_lines;
pub(crate) mod evaluation;
pub(crate) mod sheet;
