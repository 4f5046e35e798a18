//! Scoring beside the thread of the window: the newest wish wins, and the sheet on screen stays
//! until its own has come.

use std::{
    sync::{
        Arc,
        mpsc::{self, Receiver, Sender},
    },
    thread,
};

use crate::{
    marks::Sheaf,
    rulebook::Book,
    sheet::{self, ScoreSheet, Skills},
    window::{paper::Paper, viewer::arrived::Arrived},
};

use super::book;

/// Scores on a thread of its own, which ends with it.
pub(crate) struct Scorer {
    wishes: Sender<Wish>,
    scored: Receiver<Scored>,
    /// Number of the newest wish.
    newest: u64,
    /// What was scored here, because there is no thread that would.
    own: Option<Scored>,
    is_waiting: bool,
}

struct Wish {
    number: u64,
    book: Arc<Book>,
    list: Option<Arc<Skills>>,
    sheaf: Sheaf,
}

/// What came of a wish.
pub(crate) struct Scored {
    number: u64,
    /// The score sheet.
    pub sheet: ScoreSheet,
    /// The paper that goes with it.
    pub paper: Paper,
}

impl Wish {
    fn score(&self) -> Scored {
        let Self { number, book, list, sheaf } = self;
        let sheet = sheet::score_with(book, sheaf, list.as_deref());
        let paper = book::paper(book, sheaf, &sheet);
        Scored { number: *number, sheet, paper }
    }
}

impl Scorer {
    /// Begins; the signal is given whenever something was scored.
    pub(crate) fn new(arrived: Arrived) -> Self {
        let (wishes, heard) = mpsc::channel::<Wish>();
        let (done, scored) = mpsc::channel();
        let work = move || {
            while let Ok(first) = heard.recv() {
                let newest = heard.try_iter().last().unwrap_or(first);
                if done.send(newest.score()).is_err() {
                    break;
                }
                arrived.signal();
            }
        };
        // Without the thread nobody hears the wishes, and `wish` scores by itself.
        let _ = thread::Builder::new().name("scorer".into()).spawn(work);
        Self { wishes, scored, newest: 0, own: None, is_waiting: false }
    }

    /// Wishes for the sheet of these marks, by the book and the athlete's own list; older wishes
    /// are forgotten.
    pub(crate) fn wish(&mut self, (book, list): (&Arc<Book>, Option<&Arc<Skills>>), sheaf: &Sheaf) {
        self.forget();
        self.is_waiting = true;
        let (book, list, sheaf) = (Arc::clone(book), list.cloned(), sheaf.clone());
        let wish = Wish { number: self.newest, book, list, sheaf };
        if let Err(mpsc::SendError(wish)) = self.wishes.send(wish) {
            self.own = Some(wish.score());
        }
    }

    /// Forgets what was wished for.
    pub(crate) fn forget(&mut self) {
        self.newest += 1;
        self.own = None;
        self.is_waiting = false;
    }

    /// Returns whether a sheet is still to come.
    pub(crate) const fn is_waiting(&self) -> bool {
        self.is_waiting
    }

    /// Returns what has come of the newest wish, once.
    pub(crate) fn take(&mut self) -> Option<Scored> {
        let newest = self.newest;
        let come = self.scored.try_iter().find(|scored| scored.number == newest);
        self.hand_over(come)
    }

    /// Waits for what comes of the newest wish.
    pub(crate) fn wait(&mut self) -> Option<Scored> {
        if !self.is_waiting {
            return None;
        }
        let newest = self.newest;
        let come = match self.own.take() {
            None => self.scored.iter().find(|scored| scored.number == newest),
            own => own,
        };
        self.hand_over(come)
    }

    fn hand_over(&mut self, come: Option<Scored>) -> Option<Scored> {
        let come = come.or_else(|| self.own.take());
        self.is_waiting &= come.is_none();
        come
    }
}
