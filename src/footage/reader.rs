use std::{
    collections::VecDeque,
    num::NonZeroUsize,
    sync::{
        Arc, Condvar, Mutex, MutexGuard, PoisonError,
        atomic::{AtomicU64, Ordering},
    },
    thread::{self, JoinHandle},
};

use image::RgbaImage;
use lru::LruCache;

use super::{
    DEFAULT_BUDGET, DecodeError, Decoder, Footage, Picture, cache::SharedCache, prove::Prover,
};

/// Small pictures that are kept.
const SMALLS: NonZeroUsize = NonZeroUsize::new(512).unwrap();
/// Small pictures that may wait; the oldest wish is dropped first.
const MOST_WAITING: usize = 64;

/// Decodes on a thread of its own, so that the window never waits.
///
/// The newest wish wins: a wish is never queued behind an older one, and work that nobody wants
/// any more is dropped mid-way. When nothing is wished for, the reader fetches the neighbours that
/// [`Self::near`] named, then small pictures, then proves the table.
pub struct Reader {
    footage: Footage,
    shared: Arc<Shared>,
    cache: SharedCache,
    worker: Option<JoinHandle<()>>,
}

struct Shared {
    state: Mutex<State>,
    /// Rung when there is something to do.
    bell: Condvar,
    /// Counts wishes; work for an older one is dropped.
    wishes: AtomicU64,
}

struct State {
    wish: Option<Wish>,
    near: VecDeque<usize>,
    waiting: VecDeque<(usize, u32)>,
    smalls: LruCache<(usize, u32), Arc<RgbaImage>>,
    latest: Option<Arc<Picture>>,
    trouble: Option<(usize, DecodeError)>,
    proved: Option<Footage>,
    closing: bool,
}

#[derive(Clone, Copy)]
struct Wish {
    frame: usize,
    /// Whether the picture that decodes quickest near the frame may come first.
    haste: Haste,
}

#[derive(Clone, Copy, PartialEq)]
enum Haste {
    Exact,
    KeyFirst,
}

impl Reader {
    /// Starts a reader; `wake` is called from its thread whenever there is something new.
    pub fn spawn(footage: Footage, wake: impl Fn() + Send + Sync + 'static) -> Self {
        Self::with_budget(footage, DEFAULT_BUDGET, wake)
    }

    /// Starts a reader that keeps at most about `budget` bytes of pictures.
    pub fn with_budget(
        footage: Footage,
        budget: usize,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Self {
        let cache = SharedCache::new(budget);
        let shared = Arc::new(Shared {
            state: Mutex::new(State::new()),
            bell: Condvar::new(),
            wishes: AtomicU64::new(0),
        });
        let worker = Worker {
            decoder: Decoder::with_cache(&footage, threads(), cache.clone()),
            prover: (!footage.table().is_proved()).then(|| Prover::new(&footage)),
            shared: Arc::clone(&shared),
            wake: Box::new(wake),
        };
        let worker = thread::Builder::new().name("reader".into()).spawn(move || worker.run());
        Self { footage, shared, cache, worker: worker.ok() }
    }

    /// Returns the clip that is read.
    pub fn footage(&self) -> &Footage {
        &self.footage
    }

    /// Asks for frame `k`; [`Self::latest`] shows it as soon as it is there.
    pub fn want(&self, k: usize) {
        self.wish(Wish { frame: k, haste: Haste::Exact });
    }

    /// Asks for frame `k` while the hand still moves: the key picture before it comes first.
    pub fn glance(&self, k: usize) {
        self.wish(Wish { frame: k, haste: Haste::KeyFirst });
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
        self.cache.get(k)
    }

    /// Asks for the `n` frames on either side of `k` for when nothing else is to be done.
    pub fn near(&self, k: usize, n: usize) {
        let around = (1..=n).flat_map(|step| [k.checked_add(step), k.checked_sub(step)]);
        self.shared.lock().near = around.flatten().collect();
        self.shared.bell.notify_one();
    }

    /// Returns a picture of frame `k`, upright, `height` pixels high; asks for it if it is not
    /// there yet.
    pub fn small(&self, k: usize, height: u32) -> Option<Arc<RgbaImage>> {
        let mut state = self.shared.lock();
        if let Some(small) = state.smalls.get(&(k, height)) {
            return Some(Arc::clone(small));
        }
        if !state.waiting.contains(&(k, height)) {
            state.waiting.push_front((k, height));
            state.waiting.truncate(MOST_WAITING);
            self.shared.bell.notify_one();
        }
        None
    }

    /// Returns the clip with its proved table, once a full decode in idle time has made it.
    ///
    /// The reader itself goes on with the table that it was given, so that nothing is renumbered
    /// silently; start another reader to use this one.
    pub fn proved(&self) -> Option<Footage> {
        self.shared.lock().proved.clone()
    }

    fn wish(&self, wish: Wish) {
        let at_hand = self.cache.get(wish.frame);
        let mut state = self.shared.lock();
        self.shared.wishes.fetch_add(1, Ordering::Relaxed);
        if let Some(picture) = at_hand {
            (state.latest, state.trouble, state.wish) = (Some(picture), None, None);
        } else {
            state.wish = Some(wish);
            self.shared.bell.notify_one();
        }
    }
}

impl Drop for Reader {
    fn drop(&mut self) {
        self.shared.lock().closing = true;
        self.shared.wishes.fetch_add(1, Ordering::Relaxed);
        self.shared.bell.notify_one();
        if let Some(worker) = self.worker.take() {
            // A worker that panicked has nothing left to wait for.
            let _ = worker.join();
        }
    }
}

impl Shared {
    fn lock(&self) -> MutexGuard<'_, State> {
        // Each change under the lock is one assignment, so a panic leaves nothing half done.
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl State {
    fn new() -> Self {
        Self {
            wish: None,
            near: VecDeque::new(),
            waiting: VecDeque::new(),
            smalls: LruCache::new(SMALLS),
            latest: None,
            trouble: None,
            proved: None,
            closing: false,
        }
    }
}

/// What the worker does next, most urgent first.
enum Task {
    Show(Wish),
    Near(usize),
    Small(usize, u32),
    Prove,
    Close,
}

struct Worker {
    decoder: Decoder,
    prover: Option<Prover>,
    shared: Arc<Shared>,
    wake: Box<dyn Fn() + Send + Sync>,
}

impl Worker {
    fn run(mut self) {
        loop {
            let (task, wishes) = self.next();
            let shared = Arc::clone(&self.shared);
            let stop = move || shared.wishes.load(Ordering::Relaxed) != wishes;
            match task {
                Task::Show(wish) => self.show(wish, &stop),
                // Neighbours and small pictures are extras; what fails there fails again, and is
                // said, when it is wished for.
                Task::Near(k) => drop(self.decoder.picture_unless(k, &stop)),
                Task::Small(k, height) => self.small(k, height, &stop),
                Task::Prove => self.prove(&stop),
                Task::Close => return,
            }
        }
    }

    /// Waits for something to do.
    fn next(&self) -> (Task, u64) {
        let mut state = self.shared.lock();
        loop {
            let wishes = self.shared.wishes.load(Ordering::Relaxed);
            if state.closing {
                return (Task::Close, wishes);
            }
            if let Some(wish) = state.wish.take() {
                return (Task::Show(wish), wishes);
            }
            if let Some(k) = state.near.pop_front() {
                return (Task::Near(k), wishes);
            }
            if let Some((k, height)) = state.waiting.pop_front() {
                return (Task::Small(k, height), wishes);
            }
            if self.prover.is_some() {
                return (Task::Prove, wishes);
            }
            state = self.shared.bell.wait(state).unwrap_or_else(PoisonError::into_inner);
        }
    }

    fn show(&mut self, wish: Wish, stop: &dyn Fn() -> bool) {
        if wish.haste == Haste::KeyFirst
            && let Some(key) = self.decoder.key_before(wish.frame)
            && let Ok(picture) = self.decoder.picture_unless(key, stop)
        {
            self.shared.lock().latest = Some(picture);
            (self.wake)();
        }
        let result = self.decoder.picture_unless(wish.frame, stop);
        let mut state = self.shared.lock();
        match result {
            Err(DecodeError::Abandoned) => return,
            // A newer wish that was at hand has put its picture up meanwhile.
            Ok(_) if stop() => return,
            Ok(picture) => (state.latest, state.trouble) = (Some(picture), None),
            Err(error) => state.trouble = Some((wish.frame, error)),
        }
        drop(state);
        (self.wake)();
    }

    fn small(&mut self, k: usize, height: u32, stop: &dyn Fn() -> bool) {
        match self.decoder.picture_unless(k, stop) {
            Ok(picture) => {
                let small = Arc::new(picture.to_small(height));
                self.shared.lock().smalls.put((k, height), small);
                (self.wake)();
            }
            // Put back for when the wish that came between is done.
            Err(DecodeError::Abandoned) => self.shared.lock().waiting.push_back((k, height)),
            Err(_) => {}
        }
    }

    fn prove(&mut self, stop: &dyn Fn() -> bool) {
        let shared = Arc::clone(&self.shared);
        let busy = move || {
            let state = shared.lock();
            state.wish.is_some() || !state.near.is_empty() || !state.waiting.is_empty()
        };
        let Some(prover) = &mut self.prover else { return };
        let Some(proved) = prover.run(&|| stop() || busy()) else { return };
        self.prover = None;
        self.shared.lock().proved = proved.ok();
        (self.wake)();
    }
}

/// Two to four threads: more only add delay.
fn threads() -> usize {
    thread::available_parallelism().map_or(2, NonZeroUsize::get).clamp(1, 4)
}
