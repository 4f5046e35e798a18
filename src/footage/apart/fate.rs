use std::sync::{
    Arc, Mutex, PoisonError,
    atomic::{AtomicBool, Ordering},
};

use crate::footage::{libav, packets::source::Source};

use super::known::{KnownClips, remember};

/// What became of the processes that decode a clip.
#[derive(Debug)]
pub(super) struct Fate {
    source: Arc<Source>,
    known: Arc<dyn KnownClips>,
    is_decoded: AtomicBool,
    /// How the one ended that was lost last.
    lost: Mutex<Option<String>>,
}

impl Fate {
    pub(super) fn new(source: &Arc<Source>, known: &Arc<dyn KnownClips>) -> Self {
        Self {
            source: Arc::clone(source),
            known: Arc::clone(known),
            is_decoded: AtomicBool::new(false),
            lost: Mutex::default(),
        }
    }

    /// Says that one process has decoded all of the clip, from its first packet to its last.
    pub(super) fn is_decoded(&self) {
        if !self.is_decoded.swap(true, Ordering::Relaxed) {
            remember(&self.known, &self.source);
        }
    }

    /// Remembers how a process was lost.
    pub(super) fn lose(&self, how: String) -> libav::Error {
        let clip = self.source.path().display();
        tracing::warn!("{clip}: a process that decodes it was lost: {how}");
        *self.lost.lock().unwrap_or_else(PoisonError::into_inner) = Some(how);
        libav::LOST
    }

    pub(super) fn lost(&self) -> Option<String> {
        self.lost.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}
