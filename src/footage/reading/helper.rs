use std::{
    ops::Range,
    sync::{Arc, atomic::Ordering},
    time::{Duration, Instant},
};

use crate::footage::{Footage, Picture, numbering::prove::Prover};

use super::{
    cache::{Heading, SharedCache},
    decoder::Decoder,
    means::Ahead,
    shared::{Haste, Shared, State, Wish, threads},
};

/// How often frames are said to be proved while the proof goes on.
const TELLING: Duration = Duration::from_millis(500);

/// The thread that works ahead: frames before those at hand while somebody steps back, and, when
/// nobody waits for anything, counting and proving the table.
pub(crate) struct Helper {
    shared: Arc<Shared>,
    ahead: Ahead,
    /// Made when it is first needed.
    decoder: Option<Decoder>,
    prover: Option<Prover>,
    /// What was fetched last, looking from where; not tried again from the same place.
    tried: Option<(usize, Range<usize>)>,
    /// Whether the table can be had no better.
    settled: bool,
    /// Whether a kept proof was looked for.
    recalled: bool,
    /// When it was last said which frames are proved.
    told: Instant,
}

enum Task {
    RunBefore(Range<usize>),
    Count,
    Prove,
}

impl Helper {
    pub(crate) fn new(shared: &Arc<Shared>, ahead: Ahead) -> Self {
        let shared = Arc::clone(shared);
        let (decoder, prover, tried) = (None, None, None);
        let (settled, recalled, told) = (false, false, Instant::now());
        Self { shared, ahead, decoder, prover, tried, settled, recalled, told }
    }

    /// Works until the reader closes.
    pub(crate) fn run(mut self) {
        while let Some(task) = self.next() {
            match task {
                Task::RunBefore(range) => self.fetch(range),
                Task::Count => self.count(),
                Task::Prove => self.prove(),
            }
        }
    }

    /// Waits for something to do; nothing when the reader closes.
    fn next(&mut self) -> Option<Task> {
        let shared = Arc::clone(&self.shared);
        let mut state = shared.lock();
        loop {
            if state.closing {
                return None;
            }
            if let Some(range) = self.run_before(&state) {
                state.helping = Some(range.clone());
                return Some(Task::RunBefore(range));
            }
            if state.is_idle() && !self.settled {
                return Some(if state.footage.is_whole() { Task::Prove } else { Task::Count });
            }
            state = shared.wait(state);
        }
    }

    fn run_before(&mut self, state: &State) -> Option<Range<usize>> {
        let wanted = wanted(state, self.ahead, self.tried.as_ref())?;
        self.tried = Some(wanted.clone());
        Some(wanted.1)
    }

    fn fetch(&mut self, range: Range<usize>) {
        let (footage, cache) = self.now();
        let decoder = self
            .decoder
            .get_or_insert_with(|| Decoder::with_cache(&footage, threads(), cache.clone()));
        decoder.adopt(&footage, &cache);
        let shared = &self.shared;
        let stop = || {
            let (focus, heading) = cache.focus();
            heading != Heading::Back || focus < range.start || shared.lock().closing
        };
        // What fails fails again, and is said, when it is wished for.
        let _ = decoder.fill(range.clone(), &stop);
        self.shared.lock().helping = None;
        self.shared.bell.notify_all();
    }

    fn now(&self) -> (Footage, SharedCache) {
        let state = self.shared.lock();
        (state.footage.clone(), state.cache.clone())
    }

    fn count(&mut self) {
        let (footage, _) = self.now();
        let shared = &self.shared;
        match footage.counted(&|| shared.lock().closing) {
            Some(Ok(whole)) => self.adopt(whole),
            // A file that cannot be read to its end stays as far as it was read.
            _ => self.settled = true,
        }
    }

    fn prove(&mut self) {
        let (footage, _) = self.now();
        if footage.table().is_proved() {
            self.settled = true;
            return;
        }
        if !self.recalled {
            self.recalled = true;
            if let Some(recalled) = footage.recalled(&|| self.shared.lock().closing) {
                self.settled = true;
                self.adopt(recalled);
                return;
            }
        }
        let Self { shared, ahead, tried, prover, told, .. } = self;
        let stop = || {
            let state = shared.lock();
            // Somebody who steps among pictures at hand waits for nothing, and yet will.
            state.closing
                || !state.is_idle()
                || wanted(&state, *ahead, tried.as_ref()).is_some()
                || told.elapsed() > TELLING
        };
        let prover = prover.get_or_insert_with(|| Prover::new(&footage));
        match prover.run(&stop, &|_| ()) {
            // Somebody who waits is not made to wait for this as well.
            None if shared.lock().is_idle() => {
                let so_far = prover.so_far();
                *told = Instant::now();
                self.adopt(so_far);
            }
            None => {}
            Some(proved) => {
                (self.prover, self.settled) = (None, true);
                if let Ok(proved) = proved {
                    self.adopt(proved);
                }
            }
        }
    }

    /// Goes on with a better table. Where it gives frames other numbers, no picture may keep its
    /// old one: what is on screen is found again by its time. Where frames are proved, only pictures
    /// of them stay that are as they were proved.
    fn adopt(&self, footage: Footage) {
        let is_proved = footage.table().is_proved();
        let cache = self.shared.lock().cache.clone();
        let cache = if is_proved {
            cache.with(|picture| footage.admits(picture))
        } else {
            // The same one, because who fetches a picture just now has the same numbers.
            cache.let_go_unless(|picture| picture.is_proved() || footage.admits(picture));
            cache
        };
        let mut state = self.shared.lock();
        let continues = footage.table().continues(state.footage.table());
        state.cache = cache;
        if is_proved {
            state.smalls.clear();
        }
        let stays = |it: &Arc<Picture>| !is_proved && it.is_proved() || footage.admits(it);
        if !continues || !state.latest.as_ref().is_none_or(stays) {
            if !is_proved && !continues {
                state.cache = SharedCache::new(state.cache.budget());
            }
            state.smalls.clear();
            state.near = None;
            state.waiting.clear();
            // The newest that was asked for, then what could not be shown by its old number and may
            // well be there, then what was shown.
            let when = |frame: usize| Some(state.footage.table().entry(frame)?.ticks);
            let asked = state.wish.or(state.showing).and_then(|wish| when(wish.frame));
            let failed = state.trouble.as_ref().and_then(|(frame, _)| when(*frame));
            let shown = state.latest.as_ref().map(|shown| shown.ticks);
            let frame = asked.or(failed).or(shown).map(|instant| footage.table().at(instant));
            (state.latest, state.trouble) = (None, None);
            state.wish = frame.map(|frame| Wish { frame, haste: Haste::Exact });
            self.shared.wishes.fetch_add(1, Ordering::Relaxed);
        }
        state.footage = footage;
        drop(state);
        self.shared.bell.notify_all();
        (self.shared.wake)();
    }
}

/// Returns the frames to fetch next, and from where they were looked for; nothing where the
/// second decoder rests, or has just tried that.
fn wanted(
    state: &State,
    ahead: Ahead,
    tried: Option<&(usize, Range<usize>)>,
) -> Option<(usize, Range<usize>)> {
    if ahead == Ahead::Wait || state.working || state.wish.is_some() {
        return None;
    }
    let before = state.cache.run_before()?;
    // Not farther than one run: the nearest come last, and the nearest are wanted first.
    let entries = state.footage.table().entries().get(..before.end)?;
    let run = entries.iter().rposition(|entry| entry.key).unwrap_or(0);
    let now = (state.cache.focus().0, before.start.max(run)..before.end);
    (tried != Some(&now)).then_some(now)
}
