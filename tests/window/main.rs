//! The window: its picture on the headless renderers, and the whole program under Xvfb.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    clippy::print_stdout,
    reason = "the helpers of tests fail by panicking, as the tests themselves do"
)]

mod agreement;
mod asides;
#[path = "../video/bar_codes.rs"]
mod bar_codes;
mod book;
mod clips;
mod colours;
mod cutting;
mod drawn;
mod erasing;
mod eye;
mod files;
mod handing;
mod handing_over;
#[path = "../video/hdr_codes.rs"]
mod hdr_codes;
mod library;
mod measuring;
mod meet;
#[path = "../pure/mounted.rs"]
mod mounted;
mod new_clips;
mod no_display;
mod oddities;
mod pairs;
mod pictures;
mod reading;
mod record;
mod saving;
mod screens;
mod shaders;

mod sittings;
mod ten_minutes;
mod walk;
mod ways;
mod xvfb;
mod xvfb_sitting;
