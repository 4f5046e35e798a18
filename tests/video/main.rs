//! The video tests: every frame that `footage` gives is compared with what the `ffmpeg` program
//! decodes, and with the number that each made-up clip carries in its own pixels.

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of tests fail by panicking, as the tests themselves do"
)]

mod apart;
mod avi;
mod bar_codes;
mod bits;
mod boxes;
mod captions;
mod clips;
mod colours;
mod containers;
mod copies;
mod damage;
mod drawn;
mod exact;
mod excerpts;
mod field_coded;
mod fields;
mod folder;
mod generated;
mod handing_over;
mod handouts;
mod hdr;
mod hdr_codes;
mod histories;
mod long;
mod looks;
mod memory;
mod misleading;
mod mutations;
mod numbers;
mod opened_apart;
mod oracle;
mod parameters;
mod proofs;
mod reading;
mod real;
mod safety;
mod streams;
mod tails;
mod time_line;
mod words;
