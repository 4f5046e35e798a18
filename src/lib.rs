//! Stillcall.
#[cfg(feature = "video")]
pub mod footage;
pub mod units;
