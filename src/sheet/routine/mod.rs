//! The routine as the evaluator sees it: elements in order, and what belongs to each.

pub(crate) mod frames;
pub(crate) mod moments;
pub(crate) mod scene;
pub(crate) mod triggers;
pub(crate) mod turn_end;
pub(crate) mod vault;
