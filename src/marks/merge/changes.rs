//! What a version of marks changed since two versions were the same.

use std::collections::{BTreeMap, BTreeSet};

use super::slot::{Slot, Thing, routine_slots, slots};
use crate::marks::{
    edit::{Edit, History, Step},
    model::{ClipFacts, Id, ReferencePlane, Sheaf},
};

/// What was changed, slot by slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Changes {
    pub(super) slots: BTreeMap<Slot, Altered>,
    /// The ids that both versions know, where that is known itself: any other one is new.
    pub(super) known: Option<BTreeSet<Id>>,
    /// The clip that they are of afterwards, where it may be another.
    pub(crate) clip: Option<ClipFacts>,
}

/// How a slot changed.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Altered {
    pub before: Option<Thing>,
    pub after: Option<Thing>,
}

impl Changes {
    /// Returns what changed from `base` to `theirs`.
    pub fn between(base: &Sheaf, theirs: &Sheaf) -> Self {
        let mut changes = Self::none(Some(base.ids().collect()));
        changes.note_between(&slots(base), &slots(theirs));
        changes.clip.clone_from(&theirs.clip);
        changes
    }

    /// Returns what `theirs` has beyond `ours`, or otherwise, where nobody knows what both once
    /// were: what it lacks may never have been there.
    pub fn apart(ours: &Sheaf, theirs: &Sheaf) -> Self {
        let ours = slots(ours);
        let mut changes = Self::none(None);
        changes.clip.clone_from(&theirs.clip);
        for (slot, after) in slots(theirs) {
            if ours.get(&slot) != Some(&after) {
                changes.slots.insert(slot, Altered { before: None, after: Some(after) });
            }
        }
        changes
    }

    /// Returns what the steps from `from` on changed; those before tell what is undone. The marks had
    /// the ids `known` before all of them.
    pub fn of(steps: &[Step], from: usize, known: impl IntoIterator<Item = Id>) -> Self {
        let mut known: BTreeSet<Id> = known.into_iter().collect();
        let (mut changes, mut history) = (Self::none(None), History::default());
        for (place, step) in steps.iter().enumerate() {
            let Some(edit) = history.note(step.clone()) else { continue };
            if place < from {
                known.extend(edit.ids());
            } else {
                changes.note(&edit);
            }
        }
        changes.slots.retain(|_, altered| altered.before != altered.after);
        Self { known: Some(known), ..changes }
    }

    /// Returns the slots that edits changed.
    pub(crate) fn touched<'a>(edits: impl Iterator<Item = &'a Edit>) -> BTreeSet<Slot> {
        let mut changes = Self::none(None);
        edits.for_each(|edit| changes.note(edit));
        changes.slots.into_keys().collect()
    }

    /// Returns whether nobody but those who made these changes knows the id.
    pub(super) fn is_new(&self, id: Id) -> bool {
        self.known.as_ref().is_some_and(|known| !known.contains(&id))
    }

    /// Returns these changes as made on this clip, where they do not say on which.
    #[must_use]
    pub(crate) fn on(self, clip: Option<ClipFacts>) -> Self {
        Self { clip: self.clip.or(clip), ..self }
    }

    /// Returns these changes followed by later ones.
    #[must_use]
    pub fn then(mut self, later: Self) -> Self {
        for (slot, altered) in later.slots {
            self.note_one(Some(slot), altered.before, altered.after);
        }
        self.known = self.known.zip(later.known).map(|(known, later)| &known | &later);
        self.clip = later.clip.or(self.clip);
        self
    }

    fn none(known: Option<BTreeSet<Id>>) -> Self {
        Self { slots: BTreeMap::new(), known, clip: None }
    }

    fn note(&mut self, edit: &Edit) {
        match edit {
            Edit::Item { before, after } => {
                let slot = before.as_ref().or(after.as_ref()).map(|item| Slot::Item(item.id()));
                let thing = |item: &Option<_>| item.clone().map(Thing::Item);
                self.note_one(slot, thing(before), thing(after));
            }
            Edit::Unfinished { before, after } => {
                let slot = before.as_ref().or(after.as_ref()).map(|it| Slot::Unfinished(it.id));
                let thing = |it: &Option<_>| it.clone().map(Thing::Unfinished);
                self.note_one(slot, thing(before), thing(after));
            }
            Edit::Plane { before, after } => {
                let of = |plane: &Option<Box<ReferencePlane>>| {
                    let plane = plane.iter().cloned();
                    plane.map(|it| (Slot::Plane(it.name.clone()), Thing::Plane(it))).collect()
                };
                self.note_between(&of(before), &of(after));
            }
            Edit::Routine { before, after } => {
                self.note_between(&routine_slots(before), &routine_slots(after));
            }
            Edit::Orientation { before, after } => {
                let thing = |turn: &Option<_>| {
                    turn.and_then(|turn| serde_json::to_value(turn).ok()).map(Thing::Value)
                };
                self.note_one(Some(Slot::Turn), thing(before), thing(after));
            }
            Edit::Copy { before, after } => {
                self.note_between(&slots(before), &slots(after));
                self.clip.clone_from(&after.clip);
            }
            Edit::Together(edits) => edits.iter().for_each(|edit| self.note(edit)),
        }
    }

    fn note_between(&mut self, before: &BTreeMap<Slot, Thing>, after: &BTreeMap<Slot, Thing>) {
        let slots: BTreeSet<&Slot> = before.keys().chain(after.keys()).collect();
        for slot in slots {
            let (before, after) = (before.get(slot), after.get(slot));
            if before != after {
                self.note_one(Some(slot.clone()), before.cloned(), after.cloned());
            }
        }
    }

    /// What was before stays what it was at the first change.
    fn note_one(&mut self, slot: Option<Slot>, before: Option<Thing>, after: Option<Thing>) {
        let Some(slot) = slot else { return };
        self.slots.entry(slot).or_insert(Altered { before, after: None }).after = after;
    }
}
