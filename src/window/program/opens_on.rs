//! What the window opens on.

use std::path::PathBuf;

use crate::{footage::ApartDecoder, library::Home, practice::gather, window::screens::practice};

/// What the window opens on.
#[derive(Clone, Debug)]
pub enum OpensOn {
    /// The start screen.
    Start,
    /// A clip, and marks where they are named.
    Clip(PathBuf, Option<PathBuf>),
    /// A clip of the samples, on the frame of what was measured there first.
    Sample(PathBuf),
    /// A set to sit.
    Set(practice::SittingWanted),
    /// Figures for the eye.
    Eye(practice::EyeWanted),
    /// How well calls agree.
    Agreement(gather::AgreementWanted),
    /// The library kept here, with these words searched for; its clips are decoded by this one.
    Library(Option<Home>, String, ApartDecoder),
}
