//! What was ever set aside of marks: listed with what it holds, taken back, or settled.

use std::{collections::BTreeSet, path::PathBuf, time::SystemTime};

use super::{
    desk::Desk,
    desk_error::DeskError,
    edit::{Edit, Step},
    entries::changes_left,
    file::{Included, Stored},
    kept::{AsideKind, AsideSearch, HeldAside, KeptAside},
    merge::{Changes, Conflict, Merged, OtherClip, Slot, merge},
    state::StateFolder,
};
use crate::units::counted;

/// Something that was set aside, held against the marks as they stand.
#[derive(Debug)]
pub struct Aside {
    /// What it is.
    pub kind: AsideKind,
    /// The file in which it is kept.
    pub path: PathBuf,
    /// Its size in bytes.
    pub bytes: u64,
    /// When it was last written.
    pub written: Option<SystemTime>,
    /// How much it holds, in words.
    pub holds: String,
    /// What of it is not in the marks, or differs from them.
    pub beyond: Result<Merged, OtherClip>,
    /// What of that was changed here since, so that somebody has chosen.
    changed_since: BTreeSet<Slot>,
    /// Whether somebody said that it is settled.
    is_settled: bool,
    hash: String,
}

impl Aside {
    /// Returns whether anything in it is not in the marks, or differs from them, and nobody has
    /// settled yet which it is to be.
    pub fn has_more(&self) -> bool {
        let is_open = |slot: &Slot| !self.changed_since.contains(slot);
        let has_open = self.beyond.as_ref().map_or(true, |it| {
            let conflicts = it.conflicts.iter().map(|conflict| &conflict.slot);
            it.joined.iter().map(|joined| &joined.slot).chain(conflicts).any(is_open)
        });
        has_open && !self.is_settled
    }

    /// Returns whether nothing in it goes beyond the marks.
    pub fn is_in_marks(&self) -> bool {
        self.beyond.as_ref().is_ok_and(|it| it.joined.is_empty() && it.conflicts.is_empty())
    }
}

impl Desk {
    /// Returns everything that was set aside of these marks, the oldest first.
    pub fn aside(&self, state: &StateFolder) -> Vec<Aside> {
        self.aside_search().look(state).iter().map(|kept| self.against(kept)).collect()
    }

    /// Returns what it takes to look for it on another thread.
    pub fn aside_search(&self) -> AsideSearch {
        let (path, journal) = (self.path.clone(), self.journal.path().to_owned());
        AsideSearch { path, journal, own: self.stored() }
    }

    /// Holds what was found against the marks as they stand.
    pub fn against(&self, kept: &KeptAside) -> Aside {
        let (holds, changes, since) = match &kept.held {
            HeldAside::Version(stored) => self.version(stored),
            HeldAside::Journal(entries) => {
                let after: &[Step] = &entries.after;
                let steps = counted(entries.steps.len() + after.len(), "step");
                let changes = changes_left(entries, &self.past).then(Changes::of(after, 0, []));
                (steps, changes, self.joined_after(entries.last()))
            }
        };
        let beyond = merge(&self.sheaf, &changes, self.highest_id);
        let steps = since.map(|since| since.saturating_sub(self.effects.0));
        let changed_since = steps.map(|steps| Changes::touched(self.history.in_force_after(steps)));
        Aside {
            kind: kept.kind,
            path: kept.path.clone(),
            bytes: kept.bytes,
            written: kept.written,
            holds,
            beyond,
            changed_since: changed_since.unwrap_or_default(),
            is_settled: self.settled.contains(&kept.hash),
            hash: kept.hash.clone(),
        }
    }

    /// Takes one back as one step: what is not here, and of what differs their side. Where `only`
    /// names some of what differs, those alone. Returns whether there was anything to take.
    pub fn take_back(&mut self, aside: &Aside, only: &[String]) -> Result<bool, DeskError> {
        let edits = self.edits_of(aside, only);
        if edits.is_empty() {
            return Ok(false);
        }
        self.take(Step::Do(Edit::Together(edits)))
    }

    /// Returns the edits by which one is taken back.
    pub(crate) fn edits_of(&self, aside: &Aside, only: &[String]) -> Vec<Edit> {
        let Ok(beyond) = &aside.beyond else { return Vec::new() };
        let mut after = self.sheaf.clone();
        let mut edits: Vec<Edit> = Vec::new();
        if let Some(edit) = beyond.edit.clone().filter(|_| only.is_empty()) {
            edit.apply(&mut after);
            edits.push(edit);
        }
        let is_meant = |it: &&Conflict| only.is_empty() || only.contains(&it.slot.to_string());
        for conflict in beyond.conflicts.iter().filter(is_meant) {
            if let Some(edit) = conflict.taking_theirs(&after) {
                edit.apply(&mut after);
                edits.push(edit);
            }
        }
        edits
    }

    /// Notes that the marks stay as they are and one is settled by that; it stays in the list.
    pub fn settle(&mut self, aside: &Aside) -> Result<(), DeskError> {
        self.journal.note_settled(&aside.hash)?;
        self.settled.push(aside.hash.clone());
        Ok(())
    }

    fn version(&self, stored: &Stored) -> (String, Changes, Option<u64>) {
        let is_version = stored.document == self.document;
        let changes = if is_version {
            self.changes_of(stored)
        } else {
            Changes::apart(&self.sheaf, &stored.sheaf)
        };
        let (marks, readings) = (stored.sheaf.marks.len(), stored.sheaf.readings.len());
        let holds = format!("{}, {}", counted(marks, "mark"), counted(readings, "reading"));
        let since = is_version.then(|| self.joined_after(&stored.included)).flatten();
        (holds, changes, since)
    }

    /// Returns the number of the step after which a version that ends with this one was joined, or
    /// parted from these marks; nothing where it never was.
    fn joined_after(&self, last: &Included) -> Option<u64> {
        let noted = self.joined_at.iter().find(|(joined, _)| joined == last);
        if let Some((_, after)) = noted {
            return Some(*after);
        }
        // Before this journal was begun.
        let before = self.past.joined.contains(last).then_some(self.effects.0);
        let is_own = last.sequence == 0 || self.past.trail.holds(last);
        before.or_else(|| is_own.then_some(last.sequence))
    }
}
