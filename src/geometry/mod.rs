//! Points to angles and lengths and what can be said of them; pure mathematics on `f64`.

pub mod angle;
mod bounds;
mod decide;
mod depth;
mod ground;
pub mod homography;
pub mod input;
mod measure;
mod measured;
mod model;
pub mod moment;
pub mod placing;
mod plane;
pub mod pose;
pub mod propagate;
mod quantity;
mod refusal;
pub mod rng;
mod sight;
pub mod turned_away;
mod zones;

pub(crate) use decide::decide_between;
pub use decide::{HALF_WIDTH, Limit, Side, Verdict, conformance, conformance_between, decide};
pub use homography::Homography;
pub use input::MeasureInput;
pub use measure::measure;
pub use measured::{Cause, Measured, Method};
pub(crate) use plane::{PlaneFit, check_plane};
pub use quantity::Quantity;
pub use refusal::Refusal;
pub use sight::{Compared, Sight};
pub use zones::{Cut, interval};
pub(crate) use zones::{all_zones, open_zones};
