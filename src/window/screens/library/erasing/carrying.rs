//! A plan that is being carried out beside the window's thread.

use std::{
    sync::{
        Arc, Mutex, PoisonError,
        atomic::{AtomicBool, AtomicUsize, Ordering},
    },
    time::{Duration, Instant},
};

use crate::{library::EraseHands, window::viewer::arrived::Arrived};

/// How far it is, and the way to stop it.
#[derive(Clone)]
pub(super) struct Carrying {
    stop: Arc<AtomicBool>,
    asked: Arc<AtomicUsize>,
    shown: Arc<Mutex<Option<Instant>>>,
    steps: usize,
    arrived: Arrived,
}

/// Nobody reads faster.
const SHOWN_EVERY: Duration = Duration::from_millis(100);

impl Carrying {
    /// Returns one of so many steps that tells how far it is.
    pub(super) fn new(steps: usize, arrived: Arrived) -> Self {
        let (stop, asked, shown) = (Arc::default(), Arc::default(), Arc::default());
        Self { stop, asked, shown, steps, arrived }
    }

    /// Stops it before the next step.
    pub(super) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Returns how far it is, in words.
    pub(super) fn says(&self) -> String {
        if self.stop.load(Ordering::Relaxed) {
            return "Stopping …".to_owned();
        }
        // Asked before each step is written down, and before it is done.
        let done = self.asked.load(Ordering::Relaxed) / 2;
        if done < self.steps {
            format!("Step {} of {} …", done + 1, self.steps)
        } else {
            "Looking through the folders whether anything is left …".to_owned()
        }
    }
}

impl EraseHands for Carrying {
    fn goes_on(&mut self) -> bool {
        self.asked.fetch_add(1, Ordering::Relaxed);
        let mut shown = self.shown.lock().unwrap_or_else(PoisonError::into_inner);
        if shown.is_none_or(|shown| shown.elapsed() >= SHOWN_EVERY) {
            *shown = Some(Instant::now());
            self.arrived.signal();
        }
        !self.stop.load(Ordering::Relaxed)
    }
}
