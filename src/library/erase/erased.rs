use std::path::PathBuf;

use super::plan::{ErasePlan, Unreached};

/// What was erased, and what was not.
#[derive(Debug)]
pub struct Erased {
    /// The plan as it was last drawn up.
    pub plan: ErasePlan,
    /// Files that are gone.
    pub gone: Vec<PathBuf>,
    /// What is out of reach, and what to do.
    pub unreached: Vec<Unreached>,
    /// Files in which the code of who withdrew still stands, such as another athlete's notes.
    pub still_named: Vec<PathBuf>,
    /// How many files were looked at afterwards.
    pub looked_at: usize,
}

impl Erased {
    /// Returns what still waits for the same.
    pub(crate) fn waiting(plan: ErasePlan, unreached: Vec<Unreached>) -> Self {
        Self { plan, gone: Vec::new(), unreached, still_named: Vec::new(), looked_at: 0 }
    }

    /// Returns whether nothing is left that the program tries again.
    pub fn is_finished(&self) -> bool {
        !self.unreached.iter().any(|what| what.tries_again)
    }
}
