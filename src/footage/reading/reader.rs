//! Decoding beside the window: one thread meets wishes, a second one works ahead.

use std::{
    sync::{
        Arc, Condvar, Mutex,
        atomic::{AtomicU64, Ordering},
    },
    thread::{self, JoinHandle},
};

use image::RgbaImage;

use crate::footage::{DecodeError, Footage, Picture};

use super::{
    helper::Helper,
    means::{Ahead, Means},
    shared::{Haste, Shared, State, Wish},
    worker::Worker,
};

/// Small pictures that may wait; the oldest wish is dropped first.
const MOST_WAITING: usize = 64;
/// Above so many pixels a picture is so heavy that only one decoder is used.
const LARGEST_FOR_TWO: u64 = 4096 * 2304;

/// Decodes on threads of its own, so that the window never waits.
///
/// The newest wish wins: a wish is never queued behind an older one, and work that nobody wants
/// any more is dropped mid-way. When nothing is wished for, the reader fetches the neighbours that
/// [`Self::near`] named, then small pictures, then counts and proves the table. While somebody
/// steps back, a second decoder fetches the frames before those at hand.
pub struct Reader {
    shared: Arc<Shared>,
    threads: Vec<JoinHandle<()>>,
}

impl Reader {
    /// Starts a reader; `wake` is called from its threads whenever there is something new.
    pub fn spawn(footage: Footage, wake: impl Fn() + Send + Sync + 'static) -> Self {
        Self::with_means(footage, Means::default(), wake)
    }

    /// Starts a reader that uses no more than `means`.
    pub fn with_means(
        footage: Footage,
        means: Means,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Self {
        let facts = footage.facts();
        let small = u64::from(facts.width) * u64::from(facts.height) <= LARGEST_FOR_TWO;
        let ahead = if small { means.ahead } else { Ahead::Wait };
        let shared = Arc::new(Shared {
            state: Mutex::new(State::new(footage, means.budget)),
            bell: Condvar::new(),
            wishes: AtomicU64::new(0),
            wake: Box::new(wake),
        });
        let worker = Worker::new(&shared);
        let helper = Helper::new(&shared, ahead);
        let named = |name: &str| thread::Builder::new().name(name.into());
        let threads = [
            named("reader").spawn(move || worker.run()),
            named("reader ahead").spawn(move || helper.run()),
        ];
        Self { shared, threads: threads.into_iter().flatten().collect() }
    }

    /// Keeps about so many bytes of pictures from now on: two clips on one screen share what one
    /// has alone.
    pub(crate) fn set_budget(&self, bytes: usize) {
        let cache = self.shared.lock().cache.clone();
        cache.set_budget(bytes);
    }

    /// Returns the clip as far as it is counted and proved by now.
    ///
    /// Numbers of frames may change while [`Footage::is_counted`] does not hold; times do not.
    pub fn footage(&self) -> Footage {
        self.shared.lock().footage.clone()
    }

    /// Asks for frame `k`; [`Self::latest`] shows it as soon as it is there.
    pub fn want(&self, k: usize) {
        self.shared.wish(Wish { frame: k, haste: Haste::Exact });
    }

    /// Asks for frame `k` while the hand still moves: the key picture before it comes first.
    pub fn glance(&self, k: usize) {
        self.shared.wish(Wish { frame: k, haste: Haste::KeyFirst });
    }

    /// Returns the picture that was finished last for a wish; its own `frame` says which it is.
    pub fn latest(&self) -> Option<Arc<Picture>> {
        self.shared.lock().latest.clone()
    }

    /// Returns the frame that could not be had and why, if the last finished wish failed.
    pub fn trouble(&self) -> Option<(usize, DecodeError)> {
        self.shared.lock().trouble.clone()
    }

    /// Returns frame `k` if it is at hand, without waiting.
    pub fn cached(&self, k: usize) -> Option<Arc<Picture>> {
        let cache = self.shared.lock().cache.clone();
        cache.get(k)
    }

    /// Asks for the `n` frames on either side of `k` for when nothing else is to be done.
    pub fn near(&self, k: usize, n: usize) {
        self.shared.lock().near = Some(k.saturating_sub(n)..k.saturating_add(n + 1));
        self.shared.bell.notify_all();
    }

    /// Returns a picture of frame `k`, upright, `height` pixels high; asks for it if it is not
    /// there yet.
    pub fn small(&self, k: usize, height: u32) -> Option<Arc<RgbaImage>> {
        let mut state = self.shared.lock();
        if let Some(small) = state.smalls.get(&(k, height)) {
            return Some(Arc::clone(small));
        }
        if !state.waiting.contains(&(k, height)) {
            state.waiting.push((k, height));
            let extra = state.waiting.len().saturating_sub(MOST_WAITING);
            state.waiting.drain(..extra);
            self.shared.bell.notify_all();
        }
        None
    }

    /// Returns the clip with its proved table, once a full decode in idle time has made it.
    pub fn proved(&self) -> Option<Footage> {
        Some(self.footage()).filter(|footage| footage.table().is_proved())
    }
}

impl Drop for Reader {
    fn drop(&mut self) {
        self.shared.lock().closing = true;
        self.shared.wishes.fetch_add(1, Ordering::Relaxed);
        self.shared.bell.notify_all();
        for thread in self.threads.drain(..) {
            // A thread that panicked has nothing left to wait for.
            let _ = thread.join();
        }
    }
}
