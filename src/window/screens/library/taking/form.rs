//! What is asked, and how far it is.

use std::path::PathBuf;

use crate::window::{keymap::HandCommand, screens::underway::Underway};

/// A bundle that is to be taken in.
pub(in crate::window::screens::library) struct TakeIn {
    /// Which of all it is: what ends for another one is not for it.
    pub(super) number: u64,
    pub(super) bundle: PathBuf,
    /// Folders of the library.
    pub(super) folders: Vec<PathBuf>,
    /// The one that it goes into, by its place.
    pub(super) into: usize,
    pub(super) stage: TakeStage,
    /// What is wrong.
    pub(super) complaint: Option<String>,
}

/// How far it is.
pub(super) enum TakeStage {
    Asked,
    Going(Underway),
    /// It says this of clips that are here and of which nothing is noted.
    Says(Vec<String>),
    /// It was taken in.
    Taken(Box<Taken>),
}

/// What was taken in.
#[derive(Clone, Debug)]
pub(crate) struct Taken {
    /// In words, line by line.
    pub(super) said: Vec<String>,
    /// Clips that are new.
    pub(super) clips: Vec<PathBuf>,
}

/// How it ended.
#[derive(Clone, Debug)]
pub(crate) enum TakeEnd {
    Taken(Box<Taken>),
    Says(Vec<String>),
    Failed(String),
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum TakeMessage {
    Asked(HandCommand),
    /// The folder in this place is meant.
    Into(usize),
    /// This is the bundle, or none is wanted.
    Chosen(Option<PathBuf>),
    Over(u64, TakeEnd),
    /// A clip of it is wanted.
    Open(PathBuf),
}

impl Drop for TakeIn {
    fn drop(&mut self) {
        // Nobody would be told what came of it.
        if let TakeStage::Going(underway) = &self.stage {
            underway.stop();
        }
    }
}
