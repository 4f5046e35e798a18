//! Stillcall steps a gymnastics video frame by frame, pins what a judge sees to its frame, and
//! adds it up under a written rule book into a score sheet whose every line leads back.
//!
//! Imports go downward only, in this order of rooms; `docs/architecture.md` has the whole map.

pub mod units;

pub mod geometry;

pub mod marks;
pub mod rulebook;

pub mod figure;
pub mod sheet;

pub mod library;
pub mod practice;

pub mod report;

#[cfg(feature = "video")]
pub mod footage;

#[cfg(feature = "window")]
pub mod window;
