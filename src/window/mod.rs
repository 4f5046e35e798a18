//! The iced program: screens, widgets, keymap and look; the only room that knows iced.

mod controls;
mod document;
#[cfg(feature = "harness")]
mod harness;
mod keymap;
mod memory;
mod paper;
mod placing;
mod program;
mod screens;
mod theme;
mod typing;
mod viewer;
mod words;
mod write;

#[cfg(feature = "harness")]
pub use harness::{Harness, Laid, Shot};
pub use program::{OpensOn, run};
pub use screens::practice::{EyeWanted, SittingWanted as SetWanted};
pub use viewer::{
    frame::{FrameView, Told},
    playback::{Playback, Speed},
    stage::Stage,
    viewport::{Room, Scale, Viewport},
};
