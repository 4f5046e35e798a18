//! Checks the motions against mechanics and the clips against the `ffmpeg` program.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should say where")]

mod files;
mod motions;
