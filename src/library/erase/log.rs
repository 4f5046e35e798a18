//! The log of what is being erased, one file a plan: the whole plan before anything is done, each
//! step before it is done, what could not be. It goes when all of it is done, because it names her.

use std::{
    fs,
    path::{Path, PathBuf},
};

use serde::{Deserialize, Serialize};

use super::{
    plan::{ErasePlan, Unreached},
    step::EraseStep,
};
use crate::{
    library::home::folder::Home,
    store::{Begin, Keeping, Lock, Log, LogError, Readers, plain_lines},
};

const KEEPING: Keeping =
    Keeping { checked: false, lock: Lock::Refused, synced: true, readers: Readers::User };

/// A line of it.
#[derive(Clone, Debug, Serialize, Deserialize)]
enum EraseLine {
    /// The plan begins, or goes on as it was drawn up anew.
    Begun(Box<ErasePlan>),
    /// A step is about to be done.
    Doing(EraseStep),
    /// A step could not be done.
    Failed(Unreached),
    /// Everything was tried, and it waits for this.
    Waits(Vec<Unreached>),
}

/// A plan in its log.
#[derive(Debug)]
pub(crate) struct EraseLog(Log);

/// A plan that is not finished.
#[derive(Debug)]
pub(crate) struct Unfinished {
    /// As it was last drawn up.
    pub plan: ErasePlan,
    /// What it waits for; nothing where it was cut short.
    pub waits: Option<Vec<Unreached>>,
    /// Its log.
    pub log: EraseLog,
}

impl EraseLog {
    /// Writes a plan down.
    pub(crate) fn begin(home: &Home, plan: &ErasePlan) -> Result<Self, LogError> {
        let path = folder(home).join(format!("{}.jsonl", plan.id));
        let mut log = Self(Log::open(&path, Begin::Either, KEEPING)?);
        log.go_on(plan)?;
        Ok(log)
    }

    /// Returns what is not finished and nobody is at work on.
    pub(crate) fn unfinished(home: &Home) -> Result<Vec<Unfinished>, LogError> {
        let entries = fs::read_dir(folder(home)).into_iter().flatten().flatten();
        let mut paths: Vec<PathBuf> = entries.map(|entry| entry.path()).collect();
        paths.sort();
        let mut all = Vec::new();
        for path in paths {
            match Log::open(&path, Begin::Existing, KEEPING) {
                Ok(log) => all.extend(Self(log).read()?),
                Err(LogError::Busy { .. }) => {}
                // Whoever was at work on it has just finished.
                Err(LogError::Io { .. }) if !path.exists() => {}
                Err(error) => return Err(error),
            }
        }
        Ok(all)
    }

    /// Returns the plan as it was last drawn up. One that was cut short before it stood there whole
    /// was not begun, and goes.
    fn read(mut self) -> Result<Option<Unfinished>, LogError> {
        let (mut plan, mut waits) = (None, None);
        for line in plain_lines(&self.0.bytes()?) {
            match line {
                EraseLine::Begun(begun) => (plan, waits) = (Some(*begun), None),
                EraseLine::Waits(for_what) => waits = Some(for_what),
                EraseLine::Doing(_) | EraseLine::Failed(_) => {}
            }
        }
        let Some(plan) = plan else {
            self.end()?;
            return Ok(None);
        };
        Ok(Some(Unfinished { plan, waits, log: self }))
    }

    /// Writes the plan down as it was drawn up anew.
    pub(crate) fn go_on(&mut self, plan: &ErasePlan) -> Result<(), LogError> {
        self.add(&EraseLine::Begun(Box::new(plan.clone())))
    }

    pub(crate) fn doing(&mut self, step: &EraseStep) -> Result<(), LogError> {
        self.add(&EraseLine::Doing(step.clone()))
    }

    pub(crate) fn failed(&mut self, what: &Unreached) -> Result<(), LogError> {
        self.add(&EraseLine::Failed(what.clone()))
    }

    pub(crate) fn wait(&mut self, for_what: &[Unreached]) -> Result<(), LogError> {
        self.add(&EraseLine::Waits(for_what.to_vec()))
    }

    /// Takes the log away.
    pub(crate) fn end(self) -> Result<(), LogError> {
        let path = self.0.path();
        fs::remove_file(path).map_err(|source| LogError::Io { path: path.to_owned(), source })
    }

    fn add(&mut self, line: &EraseLine) -> Result<(), LogError> {
        self.0.append(line).map(drop)
    }
}

/// Returns whether anything is unfinished; this costs next to nothing.
pub(crate) fn is_any(home: &Home) -> bool {
    fs::read_dir(folder(home)).is_ok_and(|mut entries| entries.next().is_some())
}

/// Returns whether a file is such a log.
pub(crate) fn is_log(home: &Home, path: &Path) -> bool {
    path.starts_with(folder(home))
}

fn folder(home: &Home) -> PathBuf {
    home.path().join("erasing")
}
