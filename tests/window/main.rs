//! The window: its picture on the headless renderers, and the whole program under Xvfb.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::unwrap_used,
    reason = "the helpers of tests fail by panicking, as the tests themselves do"
)]

mod clips;
mod drawn;
mod shaders;
mod xvfb;
