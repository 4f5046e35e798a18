//! What is done beside the window's thread, one thing at a time: what comes meanwhile is held back
//! until it is done, so that nothing overtakes it and no key is lost.

use std::{
    collections::VecDeque,
    mem,
    sync::{
        Arc, Mutex, PoisonError,
        atomic::{AtomicU64, Ordering},
    },
};

use iced::Task;

/// Of all jobs, whosever they are: an answer for a screen that is gone fits no other.
static STARTED: AtomicU64 = AtomicU64::new(0);

/// What a screen does with what came of a job.
type Rest<S, A> = Box<dyn FnOnce(&mut S) -> A + Send>;

/// Where that is put once the job is done.
type Place<S, A> = Arc<Mutex<Option<Rest<S, A>>>>;

/// The job of a screen `S`, with the messages `M` that wait for it.
pub(crate) struct Jobs<S, M, A> {
    job: Option<Job<S, A>>,
    held: VecDeque<M>,
    /// Tasks that nobody carries out yet.
    started: Vec<Task<M>>,
}

struct Job<S, A> {
    number: u64,
    place: Place<S, A>,
    /// Whether it reads the books of a form, in which somebody may write already.
    fills_form: bool,
}

impl<S, M, A> Default for Jobs<S, M, A> {
    fn default() -> Self {
        Self { job: None, held: VecDeque::new(), started: Vec::new() }
    }
}

impl<S: 'static, M: Send + 'static, A: 'static> Jobs<S, M, A> {
    /// Begins a job in the place of the one that is under way, if there is one; `done` makes the
    /// message that it is done.
    pub(crate) fn begin<T: Send + 'static>(
        &mut self,
        work: impl FnOnce() -> T + Send + 'static,
        rest: impl FnOnce(&mut S, Result<T, String>) -> A + Send + 'static,
        done: fn(u64) -> M,
    ) {
        let number = STARTED.fetch_add(1, Ordering::Relaxed);
        let place = Place::default();
        self.job = Some(Job { number, place: Arc::clone(&place), fills_form: false });
        let working = tokio::task::spawn_blocking(work);
        self.started.push(Task::perform(working, move |worked| {
            let worked = worked.map_err(|error| error.to_string());
            let rest: Rest<S, A> = Box::new(move |screen| rest(screen, worked));
            *place.lock().unwrap_or_else(PoisonError::into_inner) = Some(rest);
            done(number)
        }));
    }

    /// Lets somebody write in the form while its books are read.
    pub(crate) fn fills_form(&mut self) {
        if let Some(job) = &mut self.job {
            job.fills_form = true;
        }
    }

    /// Returns what is to be done with what came of a job; nothing where it is not waited for.
    pub(crate) fn finish(&mut self, number: u64) -> Option<Rest<S, A>> {
        let job = self.job.take_if(|job| job.number == number)?;
        job.place.lock().unwrap_or_else(PoisonError::into_inner).take()
    }

    /// Forgets a job; what comes of it is dropped.
    pub(crate) fn forget(&mut self) {
        self.job = None;
    }

    /// Returns whether a job is under way.
    pub(crate) const fn is_busy(&self) -> bool {
        self.job.is_some()
    }

    /// Returns whether a form waits for its books and nothing else waits.
    pub(crate) fn is_filling_form(&self) -> bool {
        self.held.is_empty() && self.job.as_ref().is_some_and(|job| job.fills_form)
    }

    /// Holds a message back until the job is done.
    pub(crate) fn hold(&mut self, message: M) {
        self.held.push_back(message);
    }

    /// Returns the next message that was held back, once nothing is waited for.
    pub(crate) fn next_held(&mut self) -> Option<M> {
        if self.is_busy() { None } else { self.held.pop_front() }
    }

    /// Returns the tasks that were begun since it was asked last.
    pub(crate) fn started(&mut self) -> Task<M> {
        Task::batch(mem::take(&mut self.started))
    }
}
