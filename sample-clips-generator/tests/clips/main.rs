//! Checks the motions against mechanics and the clips against the `ffmpeg` program.

mod files;
mod motions;
