use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use lru::LruCache;

use super::Picture;

/// Pictures that are kept whatever they weigh, so that a step back is never a step into nothing.
const LEAST: usize = 4;

/// The pictures used last, as many as fit a budget of bytes; shared between threads.
#[derive(Clone)]
pub(super) struct SharedCache(Arc<Mutex<Cache>>);

struct Cache {
    pictures: LruCache<usize, Arc<Picture>>,
    bytes: usize,
    budget: usize,
}

impl SharedCache {
    pub fn new(budget: usize) -> Self {
        let cache = Cache { pictures: LruCache::unbounded(), bytes: 0, budget };
        Self(Arc::new(Mutex::new(cache)))
    }

    /// Returns frame `k`, which then counts as used last.
    pub fn get(&self, k: usize) -> Option<Arc<Picture>> {
        self.lock().pictures.get(&k).cloned()
    }

    pub fn contains(&self, k: usize) -> bool {
        self.lock().pictures.contains(&k)
    }

    pub fn insert(&self, picture: Arc<Picture>) {
        let mut cache = self.lock();
        cache.bytes += picture.bytes();
        if let Some((_, old)) = cache.pictures.push(picture.frame, picture) {
            cache.bytes -= old.bytes();
        }
        while cache.bytes > cache.budget && cache.pictures.len() > LEAST {
            let Some((_, oldest)) = cache.pictures.pop_lru() else { break };
            cache.bytes -= oldest.bytes();
        }
    }

    fn lock(&self) -> MutexGuard<'_, Cache> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
