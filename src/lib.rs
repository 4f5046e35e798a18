//! Stillcall.
pub mod units;
