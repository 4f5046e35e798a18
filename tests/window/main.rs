//! The window: its picture on the headless renderers, and the whole program under Xvfb.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "the helpers of tests fail by panicking, as the tests themselves do"
)]

mod clips;
mod drawn;
mod screens;
mod shaders;
mod xvfb;
