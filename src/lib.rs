//! Stillcall steps a gymnastics video frame by frame, pins what a judge sees to its frame, and
//! adds it up under a written rule book into a score sheet whose every line leads back.
//!
//! Imports go downward only, in this order of rooms; `docs/architecture.md` has the whole map.

// What only the window, its tests or the reader of clips use is not dead: the whole build judges.
#![cfg_attr(
    not(feature = "harness"),
    allow(dead_code, unused_imports, reason = "the whole build uses it")
)]

pub mod store;
pub mod units;

pub mod geometry;

pub mod marks;
pub mod rulebook;

pub mod figure;
pub mod sheet;

pub mod judged;
pub mod trials;

pub mod library;
pub mod practice;

pub mod report;

#[cfg(feature = "video")]
pub mod copies;
#[cfg(feature = "video")]
pub mod footage;
#[cfg(feature = "video")]
pub mod handout;
#[cfg(feature = "video")]
pub mod proofs;

#[cfg(feature = "window")]
pub mod window;
