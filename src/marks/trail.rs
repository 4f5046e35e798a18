//! The steps that led to marks, by which two versions of them find where they parted.

use serde::{Deserialize, Serialize};

/// So much of a step's checksum is kept, in hex digits: there are many steps, and one that is
/// mistaken for another must be so for all that follow.
const DIGITS: usize = 8;

/// The last journal entry that a marks file contains.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Included {
    /// Its sequence number; 0 when there is none.
    pub sequence: u64,
    /// Its checksum, which tells whether a journal is the one that this file grew from.
    pub checksum: String,
}

/// The checksums of the steps, one after the other; the oldest may not be known.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Trail {
    /// Sequence number of the last step before those that are known.
    from: u64,
    steps: String,
}

impl Trail {
    /// Returns the trail that leads to `last`, as a file keeps it; what cannot be right is dropped.
    pub(crate) fn read(steps: &str, last: &Included) -> Self {
        let count = (steps.len() / DIGITS) as u64;
        let is_whole = steps.len().is_multiple_of(DIGITS) && steps.is_ascii();
        let from = last.sequence.checked_sub(count).filter(|_| is_whole);
        let read = from.map(|from| Self { from, steps: steps.to_owned() });
        let read = read.filter(|read| count == 0 || read.holds(last));
        match read {
            Some(read) if count > 0 || last.sequence == 0 => read,
            _ => Self::from(last),
        }
    }

    /// Returns the trail of which only the last step is known.
    pub(crate) fn from(last: &Included) -> Self {
        let mut trail = Self { from: last.sequence.saturating_sub(1), steps: String::new() };
        if last.sequence > 0 {
            trail.push(last);
        }
        trail
    }

    /// Adds the step that follows.
    pub(crate) fn push(&mut self, step: &Included) {
        self.steps.extend(step.checksum.chars().chain("0".repeat(DIGITS).chars()).take(DIGITS));
    }

    /// Returns it as a file keeps it.
    pub(crate) fn as_str(&self) -> &str {
        &self.steps
    }

    /// Returns whether it leads over this step.
    pub(crate) fn holds(&self, step: &Included) -> bool {
        self.at(step.sequence).is_some_and(|at| step.checksum.starts_with(at))
    }

    /// Returns the number of the last step that both have; nothing where that is not known.
    pub(crate) fn parted(&self, other: &Self) -> Option<u64> {
        let from = self.from.max(other.from);
        let together = (from.saturating_add(1)..).take_while(|number| {
            let (here, there) = (self.at(*number), other.at(*number));
            here.is_some() && here == there
        });
        together.last().or((from == 0).then_some(0))
    }

    fn at(&self, sequence: u64) -> Option<&str> {
        let place = usize::try_from(sequence.checked_sub(self.from)?.checked_sub(1)?).ok()?;
        let from = place.checked_mul(DIGITS)?;
        self.steps.get(from..from.checked_add(DIGITS)?)
    }
}
