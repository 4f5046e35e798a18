use std::sync::Arc;

use lru::LruCache;

use super::Picture;

/// Pictures that are kept whatever they weigh, so that a step back is never a step into nothing.
const LEAST: usize = 4;

/// The pictures used last, as many as fit a budget of bytes.
pub(super) struct Cache {
    pictures: LruCache<usize, Arc<Picture>>,
    bytes: usize,
    budget: usize,
}

impl Cache {
    pub fn new(budget: usize) -> Self {
        Self { pictures: LruCache::unbounded(), bytes: 0, budget }
    }

    /// Returns frame `k`, which then counts as used last.
    pub fn get(&mut self, k: usize) -> Option<Arc<Picture>> {
        self.pictures.get(&k).cloned()
    }

    pub fn contains(&self, k: usize) -> bool {
        self.pictures.contains(&k)
    }

    pub fn insert(&mut self, picture: Arc<Picture>) {
        self.bytes += picture.bytes();
        if let Some((_, old)) = self.pictures.push(picture.frame, picture) {
            self.bytes -= old.bytes();
        }
        while self.bytes > self.budget && self.pictures.len() > LEAST {
            let Some((_, oldest)) = self.pictures.pop_lru() else { break };
            self.bytes -= oldest.bytes();
        }
    }
}
