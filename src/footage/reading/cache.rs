use std::{
    collections::BTreeMap,
    ops::Range,
    sync::{Arc, Mutex, MutexGuard, PoisonError},
};

use crate::footage::Picture;

/// Pictures that are kept whatever they weigh, so that a step back is never a step into nothing.
const LEAST: usize = 4;
/// How much less a picture behind is worth keeping than one as far ahead.
const BEHIND: usize = 4;
/// Moves by more frames than this are jumps, others are steps.
const LONGEST_STEP: usize = 32;

/// The pictures around the frame that is looked at, as many as fit a budget of bytes; shared
/// between threads.
///
/// Of what does not fit, the pictures farthest from that frame go first, those that were passed
/// long before those that lie ahead: so the cache rolls along in the direction of the steps.
#[derive(Clone)]
pub(crate) struct SharedCache(Arc<Mutex<Cache>>);

struct Cache {
    pictures: BTreeMap<usize, Arc<Picture>>,
    bytes: usize,
    budget: usize,
    focus: usize,
    heading: Heading,
    /// Jumps since the last step.
    jumps: usize,
}

/// In which direction somebody steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Heading {
    Forward,
    Back,
}

impl SharedCache {
    pub(crate) fn new(budget: usize) -> Self {
        Self(Arc::new(Mutex::new(Cache {
            pictures: BTreeMap::new(),
            bytes: 0,
            budget,
            focus: 0,
            heading: Heading::Forward,
            jumps: 0,
        })))
    }

    pub(crate) fn get(&self, k: usize) -> Option<Arc<Picture>> {
        self.lock().pictures.get(&k).cloned()
    }

    pub(crate) fn contains(&self, k: usize) -> bool {
        self.lock().pictures.contains_key(&k)
    }

    /// Says that frame `k` is looked at now.
    pub(crate) fn look_at(&self, k: usize) {
        let mut cache = self.lock();
        cache.heading = match k.cmp(&cache.focus) {
            std::cmp::Ordering::Less => Heading::Back,
            std::cmp::Ordering::Equal => cache.heading,
            std::cmp::Ordering::Greater => Heading::Forward,
        };
        match k.abs_diff(cache.focus) {
            0 => {}
            1..=LONGEST_STEP => cache.jumps = 0,
            _ => cache.jumps += 1,
        }
        cache.focus = k;
    }

    /// Returns whether somebody goes from place to place. The first jump after a step is not yet
    /// that: who looked around where he was will look around where he comes to, and back as often
    /// as on.
    pub(crate) fn is_jumping(&self) -> bool {
        self.lock().jumps > 1
    }

    /// Returns the frame that is looked at, and where the steps go.
    pub(crate) fn focus(&self) -> (usize, Heading) {
        let cache = self.lock();
        (cache.focus, cache.heading)
    }

    /// Returns the part of `range` from its first frame that is missing to its last one.
    pub(crate) fn missing(&self, range: Range<usize>) -> Option<Range<usize>> {
        let cache = self.lock();
        let lacks = |k: &usize| !cache.pictures.contains_key(k);
        let first = range.clone().find(lacks)?;
        let last = range.rev().find(lacks)?;
        Some(first..last + 1)
    }

    /// Returns the frames that should be fetched before somebody who steps back runs out of
    /// pictures: those before the ones at hand, as many as fit; nothing while enough are left.
    pub(crate) fn run_before(&self) -> Option<Range<usize>> {
        let cache = self.lock();
        if cache.heading != Heading::Back {
            return None;
        }
        let at_hand = (0..=cache.focus).rev().take_while(|k| cache.pictures.contains_key(k));
        let at_hand = at_hand.count();
        let room = cache.room();
        let front = (cache.focus + 1).saturating_sub(at_hand);
        if at_hand == 0 || front == 0 || at_hand > room / 4 {
            return None;
        }
        // What was passed keeps a little room, for turning round.
        let more = (room - at_hand).saturating_sub(room / 16).max(1);
        Some(front.saturating_sub(more)..front)
    }

    pub(crate) fn insert(&self, picture: Arc<Picture>) {
        let mut cache = self.lock();
        cache.bytes += picture.bytes();
        if let Some(old) = cache.pictures.insert(picture.frame, picture) {
            cache.bytes -= old.bytes();
        }
        cache.fit();
    }

    /// Returns another cache of the same size with those of its pictures that are `right`.
    pub(crate) fn with(&self, right: impl Fn(&Picture) -> bool) -> Self {
        let (kept, other): (Vec<_>, _) = {
            let cache = self.lock();
            let kept = cache.pictures.values().cloned().collect();
            (kept, Cache { pictures: BTreeMap::new(), bytes: 0, ..*cache })
        };
        let other = Self(Arc::new(Mutex::new(other)));
        for picture in kept.into_iter().filter(|picture| right(picture)) {
            other.insert(picture);
        }
        other
    }

    /// Lets go of pictures that are not `right`, which may take long: others go on meanwhile.
    pub(crate) fn let_go_unless(&self, right: impl Fn(&Picture) -> bool) {
        let frames: Vec<usize> = self.lock().pictures.keys().copied().collect();
        for frame in frames {
            // One at a time, so that what others let go of meanwhile takes no more memory.
            let Some(picture) = self.get(frame).filter(|picture| !right(picture)) else { continue };
            let mut cache = self.lock();
            if cache.pictures.get(&frame).is_some_and(|stands| Arc::ptr_eq(stands, &picture)) {
                cache.pictures.remove(&frame);
                cache.bytes -= picture.bytes();
            }
        }
    }

    /// Returns how many pictures fit, by the mean weight of those at hand.
    pub(crate) fn room(&self) -> usize {
        self.lock().room()
    }

    /// Returns how many bytes of pictures are kept, about.
    pub(crate) fn budget(&self) -> usize {
        self.lock().budget
    }

    /// Keeps so many bytes of pictures from now on, and lets go of what is too much.
    pub(crate) fn set_budget(&self, budget: usize) {
        let mut cache = self.lock();
        cache.budget = budget;
        cache.fit();
    }

    fn lock(&self) -> MutexGuard<'_, Cache> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Cache {
    fn room(&self) -> usize {
        let weight = self.bytes / self.pictures.len().max(1);
        (self.limit() / weight.max(1)).max(LEAST)
    }

    /// Returns how many bytes are kept. Who goes forward rarely needs all that was passed, and
    /// memory that is touched for the first time takes a tenth of the decoder's time.
    fn limit(&self) -> usize {
        let is_foremost = self.pictures.keys().next_back().is_none_or(|&last| last <= self.focus);
        match self.heading {
            Heading::Forward if is_foremost => self.budget / 2,
            Heading::Forward | Heading::Back => self.budget,
        }
    }

    /// Lets go of pictures until the rest fits.
    fn fit(&mut self) {
        while self.bytes > self.limit() && self.pictures.len() > LEAST {
            let Some(dropped) = self.drop_one() else { break };
            self.bytes -= dropped.bytes();
        }
    }

    /// Takes out the picture that is worth least: on each side that is the farthest.
    fn drop_one(&mut self) -> Option<Arc<Picture>> {
        let (first, last) = (*self.pictures.keys().next()?, *self.pictures.keys().next_back()?);
        let worst = if self.distance(first) > self.distance(last) { first } else { last };
        self.pictures.remove(&worst)
    }

    fn distance(&self, k: usize) -> usize {
        let behind = match self.heading {
            Heading::Forward => k < self.focus,
            Heading::Back => k > self.focus,
        };
        k.abs_diff(self.focus) * if behind { BEHIND } else { 1 }
    }
}
