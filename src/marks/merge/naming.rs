//! Two new things may go by one id, where both computers counted on from the same one, and one
//! thing that was entered on both by two.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    changes::{Altered, Changes},
    slot::{Slot, Thing},
};
use crate::marks::model::Id;

/// Returns the changes under the ids that their things go by here.
pub(super) fn renamed(
    theirs: &Changes,
    here: &BTreeMap<Slot, Thing>,
    highest: Id,
) -> BTreeMap<Slot, Altered> {
    let new: BTreeSet<Id> = theirs
        .slots
        .iter()
        .filter(|(_, altered)| altered.after.is_some())
        .filter_map(|(slot, _)| slot.id().filter(|id| theirs.is_new(*id)))
        .filter(|id| theirs.slots.get(&Slot::Item(*id)).is_none_or(|it| it.before.is_none()))
        .collect();
    let mut names: BTreeMap<Id, Id> = BTreeMap::new();
    let mut used: BTreeSet<Id> = BTreeSet::new();
    let mut fresh = highest;
    // What belongs to a mark is younger than the mark, whose name is known by then.
    for id in &new {
        let id = *id;
        let thing = [Slot::Item(id), Slot::Unfinished(id)]
            .into_iter()
            .find_map(|slot| theirs.slots.get(&slot)?.after.as_ref());
        let Some(thing) = thing else { continue };
        let of_name = |of: Id| names.get(&of).copied().unwrap_or(of);
        let same =
            |as_id: Id| thing.renamed(|other| if other == id { as_id } else { of_name(other) });
        let holds = |as_id: Id| {
            let slot = match thing {
                Thing::Unfinished(_) => Slot::Unfinished(as_id),
                _ => Slot::Item(as_id),
            };
            here.get(&slot) == Some(&same(as_id))
        };
        let is_taken = |id: Id| {
            used.contains(&id)
                || here.contains_key(&Slot::Item(id))
                || here.contains_key(&Slot::Unfinished(id))
        };
        let here_new = here.keys().filter_map(Slot::id).filter(|id| theirs.is_new(*id));
        let twin = [id].into_iter().chain(here_new).find(|id| !used.contains(id) && holds(*id));
        let name = twin.unwrap_or_else(|| {
            if !is_taken(id) {
                return id;
            }
            // Nothing that is given a name now may get one that theirs go by.
            fresh = Id(fresh.0.saturating_add(1));
            while is_taken(fresh) || new.contains(&fresh) {
                fresh = Id(fresh.0.saturating_add(1));
            }
            fresh
        });
        used.insert(name);
        names.insert(id, name);
    }
    let name = |id: Id| names.get(&id).copied().unwrap_or(id);
    theirs
        .slots
        .iter()
        .map(|(slot, altered)| {
            let slot = match slot {
                Slot::Item(id) => Slot::Item(name(*id)),
                Slot::Unfinished(id) => Slot::Unfinished(name(*id)),
                other => other.clone(),
            };
            let renamed = |thing: &Option<Thing>| thing.as_ref().map(|it| it.renamed(name));
            let (before, after) = (altered.before.clone(), renamed(&altered.after));
            (slot, Altered { before, after })
        })
        .collect()
}
