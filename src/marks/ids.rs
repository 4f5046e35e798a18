//! Which ids new things get: each journal has its own, so that two computers give no id twice.

use super::model::Id;

/// Ids of the journal that the marks were begun with are below this one.
const FIRST: u64 = 1 << 20;

/// So many has every other journal.
const EACH: u64 = 1 << 12;

/// The ids of a journal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct IdRoom {
    /// New ids come after this one.
    pub after: Id,
}

impl IdRoom {
    /// Returns the ids of the journal of this number; 0 is the one that the marks were begun with.
    pub(super) const fn of(journal: u16) -> Self {
        let after = if journal == 0 { 0 } else { FIRST + journal as u64 * EACH };
        Self { after: Id(after) }
    }

    /// Returns the highest of these ids that lies in it, or the one before all of it.
    pub(super) fn highest(self, used: impl Iterator<Item = Id>) -> Id {
        let room = if self.after.0 < FIRST { FIRST } else { EACH };
        let end = Id(self.after.0.saturating_add(room));
        used.filter(|id| (self.after..end).contains(id)).max().unwrap_or(self.after)
    }
}
