//! What went wrong with packets' pictures while they were decoded.

use std::{iter, mem, ops::BitOr};

use serde::{Deserialize, Serialize};

use crate::footage::libav::Complaint;

/// What went wrong with a picture; several things may have.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Trouble(u8);

impl Trouble {
    /// Its data makes no sense, or part of it was made up.
    pub(crate) const BROKEN: Self = Self(1);
    /// What it leans on was not there.
    pub(crate) const MISSING: Self = Self(2);
    /// The decoder did not come to its end, and else says that it does.
    pub(crate) const UNFINISHED: Self = Self(4);
    /// Its bytes do not add up.
    pub(crate) const UNEVEN: Self = Self(8);

    /// All of it.
    pub(crate) const ALL: Self = Self(15);
    /// All but what is only reckoned here.
    pub(crate) const KNOWN: Self = Self(7);

    /// Returns what of it is also part of something else.
    pub(crate) fn only(self, other: Self) -> Self {
        Self(self.0 & other.0)
    }

    /// Returns what a decoder says of a packet, where it is one that `says_when_done`.
    pub(super) fn of(said: Complaint, says_when_done: bool) -> Self {
        Self::BROKEN.when(said.broken)
            | Self::MISSING.when(said.missing)
            | Self::UNFINISHED.when(says_when_done && !said.finished)
    }

    /// Returns it where something holds, else nothing.
    pub(super) fn when(self, holds: bool) -> Self {
        if holds { self } else { Self::default() }
    }

    /// Returns whether this is part of what went wrong.
    pub(crate) fn is(self, other: Self) -> bool {
        self.0 & other.0 != 0
    }
}

impl BitOr for Trouble {
    type Output = Self;

    fn bitor(self, other: Self) -> Self {
        Self(self.0 | other.0)
    }
}

/// Packets in a row, from the first to the last of them, and what went wrong with each.
pub(crate) type Troubled = (u32, u32, Trouble);

/// Rows that are kept until somebody asks. More of them become one that holds all that lies between:
/// where so much is damaged, nobody misses the few sound pictures.
const MOST: usize = 256;

/// What went wrong since somebody last asked.
#[derive(Clone, Debug, Default)]
pub(crate) struct Troubles(Vec<Troubled>);

impl Troubles {
    /// Notes what went wrong with a packet, which is none before those that were noted.
    pub(super) fn note(&mut self, ordinal: u32, trouble: Trouble) {
        self.extend(iter::once((ordinal, ordinal, trouble)));
    }

    pub(super) fn extend(&mut self, more: impl IntoIterator<Item = Troubled>) {
        for (from, to, trouble) in more.into_iter().filter(|(.., it)| *it != Trouble::default()) {
            let is_full = self.0.len() == MOST;
            match self.0.last_mut() {
                Some((_, last, same)) if *same == trouble && from <= last.saturating_add(1) => {
                    *last = to.max(*last);
                }
                Some((_, last, all)) if is_full => {
                    (*last, *all) = (to.max(*last), *all | trouble);
                }
                _ => self.0.push((from, to, trouble)),
            }
        }
    }

    /// Returns what was noted and forgets it.
    pub(super) fn take(&mut self) -> Vec<Troubled> {
        mem::take(&mut self.0)
    }

    pub(super) fn clear(&mut self) {
        self.0.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_trouble_is_lost_however_many_there_are() {
        let mut troubles = Troubles::default();
        for ordinal in 0..10_000 {
            let trouble = if ordinal % 3 == 0 { Trouble::BROKEN } else { Trouble::MISSING };
            troubles.note(ordinal, trouble.when(ordinal % 5 > 0));
        }
        let rows = troubles.take();
        assert!(rows.len() <= MOST && troubles.take().is_empty());
        for ordinal in (0..10_000_u32).filter(|ordinal| ordinal % 5 > 0) {
            let trouble = if ordinal % 3 == 0 { Trouble::BROKEN } else { Trouble::MISSING };
            let is_of =
                |(from, to, it): &Troubled| (*from..=*to).contains(&ordinal) && it.is(trouble);
            assert!(rows.iter().any(is_of), "{ordinal}");
        }
    }
}
