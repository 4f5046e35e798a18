//! A clip that is open: its facts, its frame table and the reader that decodes for the screen.

use std::{
    path::{Path, PathBuf},
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
    },
};

use crate::{
    footage::{Footage, FootageError, Picture, Reader},
    units::{FrameRef, Ticks, TimeBase, Upright},
};

/// A clip on the stage.
pub struct Stage {
    path: PathBuf,
    footage: Arc<Footage>,
    reader: Reader,
    /// While a clip plays the widget looks for pictures itself and must not be woken for each.
    playing: Arc<AtomicBool>,
}

impl Stage {
    /// Opens a clip; `wake` is called from the reader's thread when a picture that was wished for
    /// is there, but not while the clip plays.
    pub fn open(path: &Path, wake: impl Fn() + Send + Sync + 'static) -> Result<Self, FootageError> {
        let footage = Arc::new(Footage::open(path)?);
        let playing = Arc::new(AtomicBool::new(false));
        let quiet = Arc::clone(&playing);
        let reader = Reader::spawn(Arc::clone(&footage), move || {
            if !quiet.load(Ordering::Relaxed) {
                wake();
            }
        });
        reader.want(0);
        Ok(Self { path: path.to_owned(), footage, reader, playing })
    }

    /// Returns where the clip lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Returns the clip as the footage room knows it.
    pub fn footage(&self) -> &Footage {
        &self.footage
    }

    /// Returns how its pictures stand upright.
    pub fn upright(&self) -> Upright {
        self.footage.facts().upright
    }

    /// Returns the length of one tick.
    pub fn time_base(&self) -> TimeBase {
        self.footage.facts().time_base
    }

    /// Returns the number of the last frame.
    pub fn last_frame(&self) -> u64 {
        (self.footage.table().len() as u64).saturating_sub(1)
    }

    /// Returns when a frame is shown; of a number beyond the last frame, the end of the clip.
    pub fn ticks_of(&self, frame: u64) -> Ticks {
        let table = self.footage.table();
        if frame <= self.last_frame() {
            return table.entry(frame).ticks;
        }
        let last = table.entry(self.last_frame()).ticks;
        let before = table.entry(self.last_frame().saturating_sub(1)).ticks;
        Ticks(last.0 + (last.0 - before.0).max(1))
    }

    /// Returns when a frame is shown, in seconds.
    pub fn seconds_of(&self, frame: u64) -> f64 {
        self.time_base().seconds(self.ticks_of(frame))
    }

    /// Returns the frame that is on screen at an instant in seconds.
    pub fn frame_at(&self, seconds: f64) -> u64 {
        self.footage.table().at(self.time_base().ticks_at(seconds))
    }

    /// Returns how marks name a frame.
    pub fn frame_ref(&self, frame: u64) -> FrameRef {
        self.footage.table().frame_ref(frame)
    }

    /// Wishes for a frame; the newest wish wins.
    pub fn want(&self, frame: u64) {
        self.reader.want(frame);
    }

    /// Returns the newest picture that was wished for and is there.
    pub fn latest(&self) -> Option<Arc<Picture>> {
        self.reader.latest()
    }

    /// Says whether the widget looks for pictures by itself.
    pub fn set_playing(&self, playing: Playing) {
        self.playing.store(playing == Playing::Yes, Ordering::Relaxed);
    }
}

/// Whether a clip plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Playing {
    /// It does.
    Yes,
    /// It stands still.
    No,
}
