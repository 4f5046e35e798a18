//! Several sheets beside one another: judges, attempts, divisions, the plan.

mod attempts;
mod differences;
mod panel;
mod parts;
mod plan;
mod together;

pub use attempts::attempts;
pub use differences::{all_divisions, differences};
pub(crate) use panel::panel_for;
pub use panel::{Combined, beside_reference, combine};
pub use parts::PartTogether;
pub use plan::beside_plan;
pub use together::{Row, Together, TogetherError, attempts_together, panel};
