//! A look through the library's folders, beside the window's thread.

use std::{
    ops::ControlFlow,
    sync::{
        Arc, Mutex, PoisonError,
        atomic::{AtomicBool, Ordering},
    },
    time::{Duration, Instant},
};

use crate::{
    library::{self, Index, OwnHands, Pace, Places, Scan, ScanProgress, Shelf},
    marks::StateFolder,
    units::counted,
    window::viewer::arrived::Arrived,
};

use super::jobs::{DAMAGED, Kept, is_damaged, there};

/// A look through the folders that is under way.
#[derive(Clone, Default)]
pub(crate) struct Looking {
    stop: Arc<AtomicBool>,
    progress: Arc<Mutex<Progress>>,
    pace: Pace,
    arrived: Arrived,
}

/// How far it is, and when that was shown last.
#[derive(Default)]
struct Progress {
    now: Option<ScanProgress>,
    shown: Option<Instant>,
}

/// Whole clips are read in pieces, many in a second; nobody reads as fast.
const SHOWN_EVERY: Duration = Duration::from_millis(100);

impl Looking {
    /// Returns one that tells how far it is.
    pub(crate) fn new(arrived: Arrived) -> Self {
        Self { arrived, ..Self::default() }
    }

    /// Stops it; what was looked at stays known.
    pub(crate) fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Returns how far it is, in words.
    pub(crate) fn says(&self) -> String {
        match self.progress.lock().unwrap_or_else(PoisonError::into_inner).now {
            None => "Looking through the folders …".to_owned(),
            Some(ScanProgress::Clips(at, of)) => format!("Looking at clips, {at} of {of} …"),
            Some(ScanProgress::Marks(at, of)) => format!("Reading marks, {at} of {of} …"),
            Some(ScanProgress::Hashing(done, of)) => {
                format!("Reading clips through, {} …", self.pace.words(done, of))
            }
        }
    }

    /// Brings the index up to date with the folders; a broken one is made anew. Returns what
    /// changed, in words, where something did.
    pub(crate) fn run(&self, kept: &Kept) -> Result<Option<String>, String> {
        let look = || -> anyhow::Result<Vec<String>> {
            match self.once(kept) {
                Err(error) if is_damaged(&error) => {
                    Index::discard(there(kept)?)?;
                    let said = self.once(kept)?;
                    Ok([DAMAGED.to_owned()].into_iter().chain(said).collect())
                }
                done => done,
            }
        };
        let said = look().map_err(|error| format!("{error:#}"))?;
        Ok((!said.is_empty()).then(|| said.join(" · ")))
    }

    /// Reads whole clips that are new, so that each is known by all of its content. It goes on
    /// where it was stopped.
    pub(crate) fn name(&self, kept: &Kept) -> Result<(), String> {
        let name = || -> anyhow::Result<()> {
            let home = there(kept)?;
            let (shelf, mut index) = (Shelf::read(home)?, Index::open(home)?);
            let mut scan = Scan { index: &mut index, home, shelf: &shelf, state: None };
            scan.hash(&mut |progress| self.told(progress))?;
            Ok(())
        };
        name().map_err(|error| format!("{error:#}"))
    }

    fn told(&self, progress: ScanProgress) -> ControlFlow<()> {
        let mut told = self.progress.lock().unwrap_or_else(PoisonError::into_inner);
        told.now = Some(progress);
        if told.shown.is_none_or(|shown| shown.elapsed() >= SHOWN_EVERY) {
            told.shown = Some(Instant::now());
            self.arrived.signal();
        }
        drop(told);
        if self.stop.load(Ordering::Relaxed) {
            return ControlFlow::Break(());
        }
        ControlFlow::Continue(())
    }

    fn once(&self, kept: &Kept) -> anyhow::Result<Vec<String>> {
        let home = there(kept)?;
        let (shelf, state) = (Shelf::read(home)?, StateFolder::of_user());
        let mut index = Index::open(home)?;
        let mut scan = Scan { index: &mut index, home, shelf: &shelf, state: state.as_ref() };
        let found = scan.run(&mut |progress| self.told(progress))?;
        let counts = [
            (found.new.len(), "new"),
            (found.moved.len(), "moved"),
            (found.altered.len(), "altered"),
            (found.gone.len(), "gone"),
        ];
        let counts = counts.into_iter().filter(|(count, _)| *count > 0);
        let mut said: Vec<String> =
            counts.map(|(count, what)| format!("{} {what}", counted(count, "clip"))).collect();
        said.extend(found.problems);
        if !found.stopped {
            let places = Places { home, shelf: &shelf, index: &index, state: state.as_ref() };
            let finished = library::finish_erasing(places, &mut OwnHands)?;
            let heeded = library::heed_withdrawals(places, &mut OwnHands)?;
            for erased in finished.iter().chain(&heeded.erased) {
                said.push(
                    counted(erased.gone.len(), "file") + " deleted: " + &erased.plan.in_words(),
                );
                said.extend(erased.unreached.iter().map(|what| format!("out of reach: {what}")));
            }
            said.extend(heeded.told);
        }
        said.extend(found.stopped.then(|| "stopped before its end".to_owned()));
        Ok(said)
    }
}
