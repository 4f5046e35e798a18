//! Points to angles and what can be said of them; pure mathematics on `f64`.

pub mod angle;
mod decide;
pub mod moment;
pub mod placing;
mod quantity;
mod refusal;
pub mod turned_away;
mod zones;

pub use decide::{
    CLEAR, HALF_WIDTH, Limit, NOT_MET, Side, Verdict, conformance, conformance_between, decide,
};
pub use quantity::Quantity;
pub use refusal::Refusal;
pub use zones::{Cut, all_zones, open_zones};
