//! Points to angles and lengths and what can be said of them; pure mathematics on `f64`.

pub mod angle;
pub mod camera;
mod decide;
mod error;
pub mod input;
mod lies;
mod measuring;
mod plane;
mod quantity;
mod refusal;
pub mod shape;
mod sight;
mod zones;

pub(crate) use decide::decide_between;
pub use decide::{HALF_WIDTH, Limit, Side, Verdict, conformance, conformance_between, decide};
pub use error::{moment, placing, propagate, rng, turned_away};
pub use input::MeasureInput;
pub use lies::Lies;
pub use measuring::{
    measure::measure,
    measured::{ErrorSource, Measured, Method, Share},
};
pub(crate) use plane::check::{PlaneFit, check_plane};
pub use plane::{
    homography::{self, Along, Homography},
    pose,
};
pub use quantity::Quantity;
pub(crate) use quantity::{Drawn, Pace, ReadAt};
pub use refusal::Refusal;
pub use sight::{ComparedLine, Sight};
pub use zones::{Cut, interval};
pub(crate) use zones::{all_zones, open_zones};
