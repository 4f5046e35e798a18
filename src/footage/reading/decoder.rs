use std::{
    collections::{BTreeSet, HashSet},
    ops::{ControlFlow, Range},
    sync::Arc,
};

use crate::{
    footage::{
        DecodeError, Footage, Picture, SourceState,
        libav::{self, Frame, Threads},
        packets::session::Session,
        pictures::picture,
    },
    units::Ticks,
};

use super::cache::SharedCache;

/// Start points that may prove bad before decoding starts at the beginning.
const MOST_BAD_STARTS: usize = 12;
/// Reading on is cheaper than seeking when the start point lies at most so many packets ahead.
const NEAR: u32 = 16;
/// Pictures that may come out after a later one: a decoder that was used before may give them in
/// another order than the one by which the clip was proved.
const OUT_OF_ORDER: usize = 16;
/// Frames after another one whose packets may come before its own.
const REORDERED: usize = 64;
/// Bytes of pictures kept by default: 1 GiB with the memory that is made ready for the next ones.
pub(crate) const DEFAULT_BUDGET: usize = (1 << 30) - libav::SLAB;

/// Decodes frames of a clip in any order, exactly: frame `k` is always the k-th picture of a full
/// decode from the start, whatever was asked before, with any number of threads.
pub struct Decoder {
    footage: Footage,
    threads: Threads,
    session: Option<Session>,
    cache: SharedCache,
    bad_starts: HashSet<u32>,
    /// Whether damage was met in a clip whose table is not proved, so that no hash tells a right
    /// picture from a wrong one. Then one thread decodes, from further back: what damage does to
    /// the pictures after it must not depend on what was asked before.
    careful: bool,
    /// Start points from which pictures came out as they were proved.
    good_starts: BTreeSet<u32>,
    /// Whether the picture that was asked for came out otherwise than it was proved.
    differs: bool,
}

impl Decoder {
    /// Makes a decoder that uses `threads` threads, at least one.
    pub fn new(footage: &Footage, threads: usize) -> Self {
        Self::with_budget(footage, threads, DEFAULT_BUDGET)
    }

    /// Makes a decoder that keeps at most about `budget` bytes of pictures.
    pub fn with_budget(footage: &Footage, threads: usize, budget: usize) -> Self {
        Self::with_cache(footage, threads, SharedCache::new(budget))
    }

    /// Makes a decoder that keeps its pictures in `cache`, which holds no other clip's.
    pub(crate) fn with_cache(footage: &Footage, threads: usize, cache: SharedCache) -> Self {
        if let Some(first) = footage.first_picture() {
            if footage.table().is_proved() {
                first.set_proved();
            }
            cache.insert(first);
        }
        Self {
            footage: footage.clone(),
            threads: Threads(threads.max(1)),
            session: None,
            cache,
            bad_starts: HashSet::new(),
            careful: false,
            good_starts: BTreeSet::new(),
            differs: false,
        }
    }

    /// Returns frame `k`, waiting until it is decoded.
    pub fn picture(&mut self, k: usize) -> Result<Arc<Picture>, DecodeError> {
        self.picture_unless(k, &|| false)
    }

    /// Returns frame `k`, or [`DecodeError::Abandoned`] soon after `stop` says so.
    pub fn picture_unless(
        &mut self,
        k: usize,
        stop: &dyn Fn() -> bool,
    ) -> Result<Arc<Picture>, DecodeError> {
        self.cache.look_at(k);
        // Somebody who steps, or will, asks next for the frames before this one.
        let before = if self.cache.is_jumping() { 0 } else { self.cache.room() };
        self.get(k, before, stop)
    }

    /// Returns frame `k` as [`Self::picture_unless`] does, while another one is looked at.
    pub(crate) fn aside(
        &mut self,
        k: usize,
        stop: &dyn Fn() -> bool,
    ) -> Result<Arc<Picture>, DecodeError> {
        self.get(k, 0, stop)
    }

    fn get(
        &mut self,
        k: usize,
        before: usize,
        stop: &dyn Fn() -> bool,
    ) -> Result<Arc<Picture>, DecodeError> {
        if let Some(picture) = self.cache.get(k) {
            return Ok(picture);
        }
        if k >= self.footage.table().len() {
            let (path, count) = (self.footage.path().to_owned(), self.footage.table().len());
            return Err(DecodeError::NoSuchFrame { path, frame: k, count });
        }
        self.decode(k..k + 1, before, stop)
    }

    /// Fetches those frames of `range` that are not at hand, in one run.
    pub(crate) fn fill(
        &mut self,
        range: Range<usize>,
        stop: &dyn Fn() -> bool,
    ) -> Result<(), DecodeError> {
        let range = range.start..range.end.min(self.footage.table().len());
        match self.cache.missing(range) {
            Some(missing) => self.decode(missing, 0, stop).map(drop),
            None => Ok(()),
        }
    }

    /// Goes on with a better table of the same clip, and with the cache that holds its pictures.
    pub(crate) fn adopt(&mut self, footage: &Footage, cache: &SharedCache) {
        if !footage.is_as_known_as(&self.footage) {
            let goes_on =
                !footage.table().is_proved() && footage.table().continues(self.footage.table());
            (self.footage, self.cache) = (footage.clone(), cache.clone());
            if !goes_on {
                (self.session, self.careful) = (None, false);
            }
        }
    }

    /// Returns whether frame `k` is at hand without decoding.
    pub fn has(&self, k: usize) -> bool {
        self.cache.contains(k)
    }

    /// Returns the frame at or before `k` that decodes quickest.
    pub(crate) fn key_before(&self, k: usize) -> Option<usize> {
        let entries = self.footage.table().entries().get(..=k)?;
        entries.iter().rposition(|entry| entry.key)
    }

    /// Keeps all frames of `range`, and on the way to it up to `before` more, and returns the last.
    /// Earlier ones are decoded only as far as these lean on them. Tries start points from the
    /// nearest backwards until one gives it.
    fn decode(
        &mut self,
        range: Range<usize>,
        mut before: usize,
        stop: &dyn Fn() -> bool,
    ) -> Result<Arc<Picture>, DecodeError> {
        let k = range.end - 1;
        let mut lost_before = false;
        self.differs = false;
        for tries in 0.. {
            let start = match tries {
                0 => self.start_for(range.start),
                1..MOST_BAD_STARTS => self.good_start_for(range.start),
                _ => 0,
            };
            match self.attempt(&range, (start, before), stop) {
                Ok(ControlFlow::Break(())) => return Err(DecodeError::Abandoned),
                Ok(ControlFlow::Continue(Some(picture))) => return Ok(picture),
                Ok(ControlFlow::Continue(None)) if self.turned_careful() => continue,
                // What was left out may have been the reason.
                Ok(ControlFlow::Continue(None)) if self.has_left_out() => {
                    (before, self.session) = (usize::MAX, None);
                    continue;
                }
                Ok(ControlFlow::Continue(None)) => {}
                Err(error) => {
                    self.session = None;
                    match self.footage.clip().lost(error) {
                        // Once more, in another process.
                        Some(_) if !lost_before => lost_before = true,
                        Some(how) => {
                            let path = self.footage.path().to_owned();
                            return Err(DecodeError::Unsafe { path, frame: k, how });
                        }
                        None if start == 0 => return Err(self.unreadable(k, error)),
                        None => drop(self.bad_starts.insert(start)),
                    }
                    continue;
                }
            }
            if !self.give_up_start() {
                break;
            }
        }
        let path = self.footage.path().to_owned();
        Err(if self.differs {
            DecodeError::Unsteady { path, frame: k }
        } else {
            DecodeError::Damaged { path, frame: k }
        })
    }

    /// Returns whether the last attempt failed because it met damage for the first time.
    fn turned_careful(&mut self) -> bool {
        let hurt = self.session.as_ref().is_some_and(|session| session.hurt);
        if self.careful || !hurt || self.footage.table().is_proved() {
            return false;
        }
        (self.careful, self.session, self.threads) = (true, None, Threads(1));
        true
    }

    fn has_left_out(&self) -> bool {
        self.session.as_ref().is_some_and(|session| session.whole_from() > session.started)
    }

    /// Remembers that the session's start point did not do; returns whether there is another way.
    fn give_up_start(&mut self) -> bool {
        let Some(session) = self.session.take() else { return false };
        if session.started > 0 {
            self.bad_starts.insert(session.started);
            self.session = Some(session);
            return true;
        }
        // Inside damage the number of threads changes what comes out, and so may what a decoder saw
        // before; in the end it is done as it was when the table was proved.
        let is_the_same = session.is_straight() && session.threads().0 == 1;
        let more = !is_the_same && self.footage.table().is_proved();
        self.session = more.then(|| Session::open(self.footage.clip(), Threads(1)).ok()).flatten();
        self.session.is_some()
    }

    fn attempt(
        &mut self,
        range: &Range<usize>,
        (start, before): (u32, usize),
        stop: &dyn Fn() -> bool,
    ) -> Result<ControlFlow<(), Option<Arc<Picture>>>, libav::Error> {
        let clip = self.footage.clip();
        let mut session = match self.session.take() {
            Some(session) => session,
            None => Session::open(clip, self.threads)?,
        };
        if !self.reaches(&session, range, start) {
            session.land(clip, start)?;
        }
        let kept = if self.careful { 0 } else { range.start.saturating_sub(before) };
        // From the first frame on nothing is left out, also not what an edit list hides before it.
        session.leave_out_before(if kept == 0 { 0 } else { self.first_needed(kept) });
        let result = self.run(&mut session, range.end - 1, stop);
        self.session = Some(session);
        result
    }

    /// Decodes on until frame `k` comes out or has been passed.
    fn run(
        &mut self,
        session: &mut Session,
        k: usize,
        stop: &dyn Fn() -> bool,
    ) -> Result<ControlFlow<(), Option<Arc<Picture>>>, libav::Error> {
        let mut beyond = if self.footage.table().is_proved() { OUT_OF_ORDER } else { 0 };
        loop {
            let footage = self.footage.clone();
            let frame = match session.next(&footage.clip().scan, stop)? {
                ControlFlow::Break(()) => return Ok(ControlFlow::Break(())),
                ControlFlow::Continue(None) => return Ok(ControlFlow::Continue(None)),
                ControlFlow::Continue(Some(frame)) => frame,
            };
            let origin = session.origin(&frame);
            let Some(number) = origin.and_then(|origin| footage.table().frame_of(origin)) else {
                continue;
            };
            session.shown = session.shown.max(Some(number));
            let picture = self.accept(session, number, frame);
            if number == k {
                return Ok(ControlFlow::Continue(picture));
            }
            if number > k {
                if beyond == 0 {
                    return Ok(ControlFlow::Continue(None));
                }
                beyond -= 1;
            }
        }
    }

    /// Keeps a picture that came out, if it is certain to be right.
    fn accept(&mut self, session: &Session, number: usize, frame: Frame) -> Option<Arc<Picture>> {
        let entry = self.footage.table().entry(number)?;
        let blind = session.hurt && !self.careful && !self.footage.table().is_proved();
        if blind || !self.may_start(session.started, number) {
            return None;
        }
        // What was reached otherwise than when the clip was proved is held against the proof.
        let is_certain = session.is_straight() && self.footage.table().is_unhurt();
        if !is_certain && entry.hash.is_some_and(|hash| hash != picture::hash(&frame)) {
            self.differs = true;
            return None;
        }
        let defaults = self.footage.clip().defaults;
        let picture = Picture::new((number, entry.ticks), frame, defaults).ok()?;
        if entry.hash.is_some() {
            picture.set_proved();
            self.good_starts.insert(session.started);
        }
        let picture = Arc::new(picture);
        self.cache.insert(Arc::clone(&picture));
        Some(picture)
    }

    /// Returns the ordinal before which no packet shows frame `k` or one after it; 0 where a frame
    /// may be made of two packets.
    fn first_needed(&self, k: usize) -> u32 {
        if self.footage.clip().scan.has_fields {
            return 0;
        }
        let later = self.footage.table().entries().iter().skip(k).take(REORDERED);
        later.map(|entry| entry.ordinal).min().unwrap_or(0)
    }

    /// Returns whether going on with the session gets to all frames of `range` no slower than a
    /// seek.
    fn reaches(&self, session: &Session, range: &Range<usize>, start: u32) -> bool {
        !session.ended
            && session.whole_from() <= self.first_needed(range.start).max(session.started)
            && session.shown.is_none_or(|shown| shown < range.start)
            && !self.bad_starts.contains(&session.started)
            && self.may_start(session.started, range.start)
            && session.started <= start
            && start <= session.fed.saturating_add(NEAR)
    }

    /// Returns the ordinal of the packet at which decoding for frame `k` should start.
    fn start_for(&self, k: usize) -> u32 {
        let clip = self.footage.clip();
        let Some(entry) = self.footage.table().entry(k) else { return 0 };
        let upto = clip.scan.keys.partition_point(|&key| key <= entry.ordinal);
        let good = clip.scan.keys[..upto]
            .iter()
            .rev()
            .filter(|&&key| self.may_start(key, k) && !self.bad_starts.contains(&key));
        // Without time stamps one cannot see which pictures lean on the run before.
        let unsure = clip.scan.packets[entry.ordinal as usize].pts.is_none() || self.careful;
        good.copied().nth(usize::from(unsure)).unwrap_or(0)
    }

    /// Returns a start point for frame `k` from which pictures came out right before, once the
    /// nearest one has proved bad; the next one before it where none is known.
    fn good_start_for(&self, k: usize) -> u32 {
        let next = self.start_for(k);
        let good = self.good_starts.range(..=next).next_back().copied();
        let good =
            good.filter(|start| !self.bad_starts.contains(start) && self.may_start(*start, k));
        good.unwrap_or(next)
    }

    /// Returns when frame `k` is shown, or nothing beyond the last.
    pub(crate) fn ticks_of(&self, k: usize) -> Option<Ticks> {
        Some(self.footage.table().entry(k)?.ticks)
    }

    /// Returns whether this clip is as well known here as there.
    pub(crate) fn is_up_to(&self, footage: &Footage) -> bool {
        footage.is_as_known_as(&self.footage)
    }

    /// Returns whether frame `k` is whole when decoding starts at packet `start`.
    ///
    /// A picture shown before its run's key picture may lean on the run before.
    fn may_start(&self, start: u32, k: usize) -> bool {
        let (table, packets) = (self.footage.table(), &self.footage.clip().scan.packets);
        if start == 0 {
            return true;
        }
        if let Some(first) = table.first_frame_of(start) {
            return first <= k;
        }
        // A hidden key picture, before an edit list's beginning.
        let key = &packets[start as usize];
        let wanted = table.entry(k).and_then(|entry| packets[entry.ordinal as usize].pts);
        key.hidden && key.pts.zip(wanted).is_some_and(|(key, wanted)| key <= wanted)
    }

    fn unreadable(&self, frame: usize, cause: libav::Error) -> DecodeError {
        let path = self.footage.path().to_owned();
        match self.footage.state() {
            // Reading goes on in the open file when only its name is gone.
            SourceState::Same | SourceState::Gone => DecodeError::Unreadable { path, frame, cause },
            state => DecodeError::Changed { path, frame, state },
        }
    }
}
