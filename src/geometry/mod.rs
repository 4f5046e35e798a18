//! Points to angles and what can be said of them; pure mathematics on `f64`.

pub mod angle;
mod decide;
pub mod homography;
pub mod moment;
pub mod placing;
pub mod pose;
pub mod propagate;
mod quantity;
mod refusal;
pub mod rng;
pub mod turned_away;
mod zones;

pub use decide::{
    CLEAR, HALF_WIDTH, Limit, NOT_MET, Side, Verdict, conformance, conformance_between, decide,
};
pub use homography::Homography;
pub use quantity::Quantity;
pub use refusal::Refusal;
pub use zones::{Cut, all_zones, open_zones};
