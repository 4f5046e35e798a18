//! Something long that goes on beside the window's thread: how far it is, and the way to stop it.

use std::{
    fmt,
    sync::{
        Arc, Mutex, PoisonError,
        atomic::{AtomicBool, Ordering},
    },
    time::{Duration, Instant},
};

use iced::Task;

use crate::{footage::Proving, window::viewer::arrived::Arrived};

/// It, as the window and the thread on which it goes on both hold it.
#[derive(Clone)]
pub(crate) struct Underway {
    stop: Arc<AtomicBool>,
    told: Arc<Mutex<ToldOf>>,
    arrived: Arrived,
}

/// What was said last, and when that was shown.
#[derive(Default)]
struct ToldOf {
    said: String,
    shown: Option<Instant>,
}

/// Nobody reads faster.
const SHOWN_EVERY: Duration = Duration::from_millis(100);

impl Underway {
    /// Returns one that has just begun; what it tells is said by `arrived`.
    pub(crate) fn new(said: &str, arrived: Arrived) -> Self {
        let told = ToldOf { said: said.to_owned(), shown: None };
        Self { stop: Arc::default(), told: Arc::new(Mutex::new(told)), arrived }
    }

    /// Stops it as soon as it asks.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Returns whether it was stopped.
    pub(crate) fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// Returns how far it is, in words.
    pub(crate) fn says(&self) -> String {
        if self.is_stopped() {
            return "Stopping …".to_owned();
        }
        self.told.lock().unwrap_or_else(PoisonError::into_inner).said.clone()
    }

    /// Says how far it is.
    pub(crate) fn tell(&self, said: impl FnOnce() -> String) {
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        if told.shown.is_none_or(|shown| shown.elapsed() >= SHOWN_EVERY) {
            *told = ToldOf { said: said(), shown: Some(Instant::now()) };
            drop(told);
            self.arrived.signal();
        }
    }

    /// Says what is done now, at once.
    pub(crate) fn turn_to(&self, said: &str) {
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        *told = ToldOf { said: said.to_owned(), shown: None };
        drop(told);
        self.arrived.signal();
    }

    /// Says how far a clip is decoded.
    pub(crate) fn proving(&self, clip: &str, Proving { done, of }: Proving) {
        self.tell(|| {
            format!("{clip}: reading it through, once for all, {} % …", 100 * done / of.max(1))
        });
    }

    /// Does something with it on a thread of its own.
    pub(crate) fn run<T, M>(
        &self,
        work: impl FnOnce(&Self) -> T + Send + 'static,
        over: impl Fn(Result<T, String>) -> M + Send + 'static,
    ) -> Task<M>
    where
        T: Send + 'static,
        M: Send + 'static,
    {
        let own = self.clone();
        let working = tokio::task::spawn_blocking(move || work(&own));
        Task::perform(working, move |worked| over(worked.map_err(|error| error.to_string())))
    }
}

impl fmt::Debug for Underway {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Underway").field(&self.says()).finish()
    }
}
