//! What the threads of a reader share.

use std::{
    num::NonZeroUsize,
    ops::Range,
    sync::{
        Arc, Condvar, Mutex, MutexGuard, PoisonError,
        atomic::{AtomicU64, Ordering},
    },
    thread,
    time::Duration,
};

use image::RgbaImage;
use lru::LruCache;

use crate::footage::{DecodeError, Footage, Picture};

use super::cache::SharedCache;

/// Small pictures that are kept.
const SMALLS: NonZeroUsize = NonZeroUsize::new(512).unwrap();

pub(super) struct Shared {
    pub state: Mutex<State>,
    /// Rung when there is something to do.
    pub bell: Condvar,
    /// Counts wishes; work for an older one is dropped.
    pub wishes: AtomicU64,
    pub wake: Box<dyn Fn() + Send + Sync>,
}

pub(super) struct State {
    /// The clip as far as it is counted and proved by now.
    pub footage: Footage,
    /// Its pictures; another one when frames got other numbers.
    pub cache: SharedCache,
    pub wish: Option<Wish>,
    /// The wish that the first thread is about to meet.
    pub showing: Option<Wish>,
    pub near: Option<Range<usize>>,
    pub waiting: Vec<(usize, u32)>,
    pub smalls: LruCache<(usize, u32), Arc<RgbaImage>>,
    pub latest: Option<Arc<Picture>>,
    pub trouble: Option<(usize, DecodeError)>,
    /// Whether the first thread does something.
    pub working: bool,
    /// Frames that the second thread is fetching.
    pub helping: Option<Range<usize>>,
    pub closing: bool,
}

#[derive(Clone, Copy)]
pub(super) struct Wish {
    pub frame: usize,
    /// Whether the picture that decodes quickest near the frame may come first.
    pub haste: Haste,
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum Haste {
    Exact,
    KeyFirst,
}

impl Shared {
    pub(super) fn lock(&self) -> MutexGuard<'_, State> {
        // Each change under the lock is one assignment, so a panic leaves nothing half done.
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn wait<'a>(&self, state: MutexGuard<'a, State>) -> MutexGuard<'a, State> {
        self.bell.wait(state).unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn wait_for<'a>(
        &self,
        state: MutexGuard<'a, State>,
        most: Duration,
    ) -> MutexGuard<'a, State> {
        self.bell.wait_timeout(state, most).unwrap_or_else(PoisonError::into_inner).0
    }

    pub(super) fn wish(&self, wish: Wish) {
        let mut state = self.lock();
        self.wishes.fetch_add(1, Ordering::Relaxed);
        state.cache.look_at(wish.frame);
        if let Some(picture) = state.cache.get(wish.frame) {
            (state.latest, state.trouble, state.wish) = (Some(picture), None, None);
        } else {
            state.wish = Some(wish);
        }
        // Also where the picture is at hand: the second thread may have to work ahead.
        self.bell.notify_all();
    }
}

impl State {
    pub(super) fn new(footage: Footage, budget: usize) -> Self {
        Self {
            cache: SharedCache::new(budget),
            footage,
            wish: None,
            showing: None,
            near: None,
            waiting: Vec::new(),
            smalls: LruCache::new(SMALLS),
            latest: None,
            trouble: None,
            working: false,
            helping: None,
            closing: false,
        }
    }

    /// Returns whether nobody waits for anything.
    pub(super) fn is_idle(&self) -> bool {
        !self.working && self.wish.is_none() && self.near.is_none() && self.waiting.is_empty()
    }
}

/// Two to four threads: more only add delay.
pub(super) fn threads() -> usize {
    thread::available_parallelism().map_or(2, NonZeroUsize::get).clamp(1, 4)
}
