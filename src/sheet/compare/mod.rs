//! Several sheets beside one another: judges, attempts, the plan, the meet's result.

pub(crate) mod attempts;
pub(crate) mod common_order;
pub(crate) mod differences;
pub(crate) mod panel;
pub(crate) mod plan;
pub(crate) mod result;
pub(crate) mod together;
