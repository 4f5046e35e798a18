//! The routine as the evaluator sees it: elements in order, and what belongs to each.

pub(crate) mod angle_rules;
pub(crate) mod common_order;
pub(crate) mod durations;
pub(crate) mod frames;
pub(crate) mod moments;
mod prepare;
pub(crate) mod scene;
pub(crate) mod triggers;
pub(crate) mod turn_end;
pub(crate) mod vault;
pub(crate) mod world;
