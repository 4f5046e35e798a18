//! Two versions of one marks file become one: what only one of them changed joins by itself, what
//! both changed differently is a person's to choose. Pure, and nothing entered is lost: whatever
//! does not join is in a conflict, which holds both.

mod changes;
mod naming;
mod slot;
mod words;

use std::collections::{BTreeMap, BTreeSet};

use super::{
    edit::Edit,
    model::{ClipFacts, Id, Sheaf},
};
use slot::{slots, with_slots};

pub use changes::Changes;
pub use slot::{Slot, Thing};

/// What came of it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Merged {
    /// What joins by itself, as a change of our version; nothing where there is nothing.
    pub edit: Option<Edit>,
    /// What the edit changes.
    pub joined: Vec<JoinedSlot>,
    /// What does not join by itself.
    pub conflicts: Vec<Conflict>,
}

/// Something that only they changed.
#[derive(Clone, Debug, PartialEq)]
pub struct JoinedSlot {
    /// What it is.
    pub slot: Slot,
    /// As it is here.
    pub ours: Option<Thing>,
    /// As it is there.
    pub theirs: Option<Thing>,
}

/// Something that both versions changed, and differently.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// What it is.
    pub slot: Slot,
    /// As it was in both, as far as that is known.
    pub before: Option<Thing>,
    /// As it is here.
    pub ours: Option<Thing>,
    /// As it is there.
    pub theirs: Option<Thing>,
}

/// Why two versions cannot be joined.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "they are of another copy of the clip, whose frames have other times; \"stillcall attach\" \
     moves marks from one copy to another"
)]
pub struct OtherClip;

/// Brings what the others changed into our version. New things whose id is taken here get one
/// after `highest`, and so does what belongs to them.
pub fn merge(ours: &Sheaf, theirs: &Changes, highest: Id) -> Result<Merged, OtherClip> {
    if let (Some(there), Some(here)) = (&theirs.clip, &ours.clip)
        && !is_alike(here, there)
    {
        return Err(OtherClip);
    }
    let here = slots(ours);
    let (mut taken, mut conflicts) = (BTreeMap::new(), Vec::new());
    for (slot, altered) in naming::renamed(theirs, &here, highest) {
        let now = here.get(&slot);
        if now == altered.after.as_ref() {
            continue;
        }
        // Nothing of ours can hold a key of a later version back, and no edit can set it.
        let is_free = now == altered.before.as_ref() && !matches!(slot, Slot::Other(_));
        if is_free {
            taken.insert(slot, altered);
        } else {
            let (ours, before, theirs) = (now.cloned(), altered.before, altered.after);
            conflicts.push(Conflict { slot, before, ours, theirs });
        }
    }
    hold_together(&here, &mut taken, &mut conflicts);
    let after: BTreeMap<Slot, Option<Thing>> =
        taken.iter().map(|(slot, altered)| (slot.clone(), altered.after.clone())).collect();
    let edit = edit(ours, &after);
    let joined = taken.into_iter().map(|(slot, altered)| {
        // What is taken was here as it was before.
        JoinedSlot { slot, ours: altered.before, theirs: altered.after }
    });
    Ok(Merged { edit, joined: joined.collect(), conflicts })
}

impl Conflict {
    /// Returns the edit that takes their side; nothing where no edit can.
    pub fn taking_theirs(&self, ours: &Sheaf) -> Option<Edit> {
        edit(ours, &BTreeMap::from([(self.slot.clone(), self.theirs.clone())]))
    }
}

/// Takes back what would leave something without the mark that it belongs to: a mark is not taken
/// away from under what was added or changed here, nor something added to one that is gone here.
fn hold_together(
    here: &BTreeMap<Slot, Thing>,
    taken: &mut BTreeMap<Slot, changes::Altered>,
    conflicts: &mut Vec<Conflict>,
) {
    loop {
        let after = |slot: &Slot| match taken.get(slot) {
            Some(altered) => altered.after.as_ref(),
            None => here.get(slot),
        };
        let all: BTreeSet<&Slot> = here.keys().chain(taken.keys()).collect();
        let is_there = |id: Id| after(&Slot::Item(id)).is_some();
        // What belongs to a mark that is gone once everything is taken.
        let loose: Vec<(&Slot, Id)> = all
            .into_iter()
            .filter_map(|slot| Some((slot, after(slot)?.of()?)))
            .filter(|(_, of)| !is_there(*of))
            .collect();
        let mut held: BTreeSet<Slot> = BTreeSet::new();
        for (slot, of) in loose {
            let removal = Slot::Item(of);
            if taken.contains_key(&removal) {
                held.insert(removal);
            } else if taken.contains_key(slot) {
                held.insert(slot.clone());
            }
        }
        // What is kept is kept with what hung under it.
        let kept: BTreeSet<Id> = held
            .iter()
            .chain(conflicts.iter().map(|conflict| &conflict.slot))
            .filter(|slot| here.contains_key(slot))
            .filter_map(Slot::id)
            .collect();
        let under = taken.iter().filter(|(_, altered)| altered.after.is_none());
        let under = under.filter(|(_, altered)| {
            altered.before.as_ref().and_then(Thing::of).is_some_and(|of| kept.contains(&of))
        });
        let under: Vec<Slot> = under.map(|(slot, _)| slot.clone()).collect();
        held.extend(under);
        if held.is_empty() {
            return;
        }
        for slot in held {
            let Some(changes::Altered { before, after }) = taken.remove(&slot) else { continue };
            let ours = here.get(&slot).cloned();
            conflicts.push(Conflict { slot, before, ours, theirs: after });
        }
    }
}

/// Returns the edit after which these slots hold what is given; nothing where no edit is needed or
/// none can do it.
fn edit(ours: &Sheaf, changed: &BTreeMap<Slot, Option<Thing>>) -> Option<Edit> {
    let mut edits = Vec::new();
    let routine =
        with_slots(&ours.routine, changed.iter().map(|(slot, thing)| (slot, thing.as_ref())));
    if let Some(routine) = routine.filter(|routine| *routine != ours.routine) {
        edits.push(Edit::routine(ours, routine));
    }
    for (slot, thing) in changed {
        edits.extend(match (slot, thing) {
            (Slot::Item(id), thing) => {
                let after = match thing {
                    Some(Thing::Item(item)) => Some(item.clone()),
                    _ => None,
                };
                Some(Edit::Item { before: ours.item(*id).map(Box::new), after })
            }
            (Slot::Unfinished(id), thing) => {
                let after = match thing {
                    Some(Thing::Unfinished(reading)) => Some((**reading).clone()),
                    _ => None,
                };
                Some(Edit::unfinished(ours, *id, after))
            }
            (Slot::Plane(name), thing) => {
                let after = match thing {
                    Some(Thing::Plane(plane)) => Some((**plane).clone()),
                    _ => None,
                };
                Some(Edit::plane(ours, name, after))
            }
            (Slot::Turn, thing) => {
                let before = ours.clip.as_ref().and_then(|clip| clip.orientation_override);
                let after = match thing {
                    Some(Thing::Value(turn)) => serde_json::from_value(turn.clone()).ok(),
                    _ => None,
                };
                Some(Edit::Orientation { before, after })
            }
            (Slot::Routine(_) | Slot::Fact(_) | Slot::Other(_), _) => None,
        });
    }
    (!edits.is_empty()).then_some(Edit::Together(edits))
}

/// Returns whether frames and clicks of one are frames and clicks of the other.
fn is_alike(one: &ClipFacts, other: &ClipFacts) -> bool {
    let alike = |it: &ClipFacts| (it.quick_id.clone(), it.time_base, it.upright);
    alike(one) == alike(other)
}
