use std::{
    ops::Range,
    sync::{Arc, atomic::Ordering},
    time::Duration,
};

use crate::footage::DecodeError;

use super::{
    decoder::Decoder,
    shared::{Haste, Shared, Wish, threads},
};

/// How often one looks whether the second thread has a picture.
const LOOK: Duration = Duration::from_millis(2);

/// The thread that meets wishes.
pub(crate) struct Worker {
    decoder: Decoder,
    shared: Arc<Shared>,
}

/// What it does next, most urgent first.
enum Task {
    Show(Wish),
    Near(Range<usize>),
    Small(usize, u32),
    Close,
}

impl Worker {
    pub(crate) fn new(shared: &Arc<Shared>) -> Self {
        let state = shared.lock();
        let decoder = Decoder::with_cache(&state.footage, threads(), state.cache.clone());
        Self { decoder, shared: Arc::clone(shared) }
    }

    pub(crate) fn run(mut self) {
        loop {
            let (task, wishes) = self.next();
            let shared = Arc::clone(&self.shared);
            let stop = move || shared.wishes.load(Ordering::Relaxed) != wishes;
            match task {
                Task::Show(wish) => self.show(wish, &stop),
                // Neighbours and small pictures are extras; what fails there fails again, and is
                // said, when it is wished for.
                Task::Near(range) => drop(self.decoder.fill(range, &stop)),
                Task::Small(k, height) => self.small(k, height, &stop),
                Task::Close => return,
            }
            {
                let mut state = self.shared.lock();
                (state.working, state.showing) = (false, None);
            }
            self.shared.bell.notify_all();
        }
    }

    /// Waits for something to do.
    fn next(&mut self) -> (Task, u64) {
        let shared = Arc::clone(&self.shared);
        let mut state = shared.lock();
        loop {
            let wishes = shared.wishes.load(Ordering::Relaxed);
            let task = if state.closing {
                Some(Task::Close)
            } else if let Some(wish) = state.wish.take() {
                state.showing = Some(wish);
                Some(Task::Show(wish))
            } else if let Some(range) = state.near.take() {
                Some(Task::Near(range))
            } else {
                state.waiting.pop().map(|(k, height)| Task::Small(k, height))
            };
            if let Some(task) = task {
                state.working = true;
                self.decoder.adopt(&state.footage, &state.cache);
                return (task, wishes);
            }
            state = shared.wait(state);
        }
    }

    fn show(&mut self, wish: Wish, stop: &dyn Fn() -> bool) {
        if wish.haste == Haste::KeyFirst
            && let Some(key) = self.decoder.key_before(wish.frame)
            && let Ok(picture) = self.decoder.aside(key, stop)
        {
            let mut state = self.shared.lock();
            if self.decoder.is_up_to(&state.footage) {
                state.latest = Some(picture);
            }
            drop(state);
            (self.shared.wake)();
        }
        self.wait_for_help(wish.frame, stop);
        let result = self.decoder.picture_unless(wish.frame, stop);
        let mut state = self.shared.lock();
        if !self.decoder.is_up_to(&state.footage) {
            // The clip was counted or proved meanwhile, and nothing of before may stand for a frame
            // of it: what is meant is the frame of the same instant.
            let now = |ticks| state.footage.table().at(ticks);
            let frame = self.decoder.ticks_of(wish.frame).map_or(wish.frame, now);
            // Where a newer wish was at hand, its picture is up.
            if !stop() || state.latest.is_none() {
                state.wish.get_or_insert(Wish { frame, ..wish });
            }
            return;
        }
        match result {
            Err(DecodeError::Abandoned) => return,
            // A newer wish that was at hand has put its picture up meanwhile.
            Ok(_) if stop() => return,
            Ok(picture) => (state.latest, state.trouble) = (Some(picture), None),
            Err(error) => state.trouble = Some((wish.frame, error)),
        }
        drop(state);
        (self.shared.wake)();
    }

    /// Waits while the second thread is about to have frame `k`; to decode it twice would take
    /// longer.
    fn wait_for_help(&self, k: usize, stop: &dyn Fn() -> bool) {
        let mut state = self.shared.lock();
        while state.helping.as_ref().is_some_and(|range| range.contains(&k))
            && !state.cache.contains(k)
            && !stop()
        {
            state = self.shared.wait_for(state, LOOK);
        }
    }

    fn small(&mut self, k: usize, height: u32, stop: &dyn Fn() -> bool) {
        match self.decoder.aside(k, stop) {
            Ok(picture) => {
                let small = Arc::new(picture.to_small(height, None));
                let mut state = self.shared.lock();
                if self.decoder.is_up_to(&state.footage) {
                    state.smalls.put((k, height), small);
                }
                drop(state);
                (self.shared.wake)();
            }
            // Put back for when the wish that came between is done.
            Err(DecodeError::Abandoned) => self.shared.lock().waiting.insert(0, (k, height)),
            Err(_) => {}
        }
    }
}
