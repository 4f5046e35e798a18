//! Points to angles and what can be said of them; pure mathematics on `f64`.

mod decide;
mod zones;

pub use decide::{
    CLEAR, HALF_WIDTH, Limit, NOT_MET, Side, Verdict, conformance, conformance_between, decide,
};
pub use zones::{Cut, all_zones, open_zones};
