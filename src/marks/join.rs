//! Joining other versions of marks with those at work.

use std::sync::PoisonError;

use super::{
    damage::sentence,
    desk::Desk,
    desk_error::DeskError,
    edit::Step,
    entries::{Entries, changes_left},
    file::{Included, Past, Stored},
    merge::{Changes, Merged, merge},
    version::Version,
};

impl Desk {
    /// Joins another version with these marks, as one step: what was changed on one side alone. Of
    /// what both changed ours stays, and theirs is kept where `stillcall aside` finds it. Returns
    /// whether there was anything new in it.
    pub fn join(&mut self, theirs: &Version) -> Result<bool, DeskError> {
        let (is_own, last) = (theirs.path == self.path, &theirs.stored.included);
        let is_new = !self.knows(last);
        if is_new {
            let changes = self.changes_of(&theirs.stored);
            let from = if is_own { "another computer's version".to_owned() } else { theirs.name() };
            match merge(&self.sheaf, &changes, self.highest_id) {
                Ok(merged) => {
                    if is_own && !merged.conflicts.is_empty() {
                        self.to_keep = Some(theirs.bytes.clone());
                    }
                    self.bring_in(merged, &from)?;
                    self.note_joined(last, &theirs.stored.past)?;
                }
                // What is of another copy of the clip is not written over.
                Err(_) if is_own => {
                    return Err(DeskError::ChangedOutside { path: self.path.clone() });
                }
                Err(error) => self.tell(&format!("{from} was not joined with it: {error}")),
            }
        }
        if is_own {
            let mut on_disk = self.on_disk.lock().unwrap_or_else(PoisonError::into_inner);
            on_disk.held = theirs.held;
        }
        Ok(is_new)
    }

    /// Joins what the journal held that was kept here when the file was changed elsewhere.
    pub(super) fn join_left(&mut self, left: &Entries) -> Result<(), DeskError> {
        let last = left.last().clone();
        if self.knows(&last) {
            return Ok(());
        }
        let from = "this computer's journal";
        match merge(&self.sheaf, &changes_left(left, &self.past), self.highest_id) {
            Ok(merged) => {
                self.bring_in(merged, from)?;
                let past = Past { trail: left.trail(), joined: Vec::new() };
                self.note_joined(&last, &past)?;
            }
            Err(error) => self.tell(&format!("{from} was not joined with it: {error}")),
        }
        Ok(())
    }

    /// Returns what another version changed since it was the same as this one.
    pub(super) fn changes_of(&self, theirs: &Stored) -> Changes {
        let joined = theirs.past.joined.iter().filter(|step| self.past.trail.holds(step));
        let joined = joined.map(|step| step.sequence).max();
        let parted = self.past.trail.parted(&theirs.past.trail).max(joined);
        match parted.and_then(|step| self.after(step)) {
            Some(base) => Changes::between(&base, &theirs.sheaf),
            None => Changes::apart(&self.sheaf, &theirs.sheaf),
        }
    }

    /// Returns whether everything up to this step of another version is in this one.
    fn knows(&self, last: &Included) -> bool {
        last.sequence == 0 || self.past.trail.holds(last) || self.past.joined.contains(last)
    }

    /// Takes what joins by itself as one step, and tells of it.
    fn bring_in(&mut self, merged: Merged, from: &str) -> Result<(), DeskError> {
        let Merged { edit, joined, conflicts } = merged;
        if let Some(edit) = edit {
            self.take(Step::Do(edit))?;
            let came = things(joined.len());
            self.tell(&format!("{came} came in from {from}; Undo takes them out again"));
        }
        if !conflicts.is_empty() {
            self.tell(&format!(
                "{} changed differently here and in {from}. Here they stay as they were; the list \
                 of what was set aside (\"stillcall aside\") shows both and takes back what you \
                 choose",
                were(conflicts.len())
            ));
        }
        Ok(())
    }

    /// Notes that another version is in this one, and with it what led there.
    fn note_joined(&mut self, last: &Included, past: &Past) -> Result<(), DeskError> {
        self.journal.note_joined(last)?;
        self.joined_at.push((last.clone(), self.journal.last().sequence));
        let further = past.joined.iter().filter(|step| !self.knows(step));
        let further: Vec<Included> = further.chain([last]).cloned().collect();
        self.past.joined.retain(|step| !past.trail.holds(step));
        self.past.joined.extend(further);
        Ok(())
    }

    fn tell(&mut self, said: &str) {
        let told = sentence(&self.path, said);
        self.told.push(told);
    }
}

fn things(count: usize) -> String {
    if count == 1 { "1 thing".to_owned() } else { format!("{count} things") }
}

fn were(count: usize) -> String {
    let verb = if count == 1 { "was" } else { "were" };
    format!("{} {verb}", things(count))
}
