//! Marks as slots with something in each, so that two versions can be held against each other
//! slot by slot.

use std::collections::BTreeMap;

use serde_json::{Map, Value};

use crate::marks::model::{Call, Id, Item, Mark, Reading, ReferencePlane, Routine, Sheaf};

/// What changes by itself.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Slot {
    /// A key of the routine but `facts`.
    Routine(String),
    /// A fact of the attempt.
    Fact(String),
    /// How the picture was turned by hand.
    Turn,
    /// A plane, by its name.
    Plane(String),
    /// A mark, a reading or a call.
    Item(Id),
    /// A reading whose points are still being placed.
    Unfinished(Id),
    /// A key of a later version.
    Other(String),
}

/// What is in a slot.
#[derive(Clone, Debug, PartialEq)]
pub enum Thing {
    /// A mark, a reading or a call.
    Item(Box<Item>),
    /// A reading whose points are still being placed.
    Unfinished(Box<Reading>),
    /// A plane.
    Plane(Box<ReferencePlane>),
    /// Anything else, as it stands in the file.
    Value(Value),
}

impl Slot {
    /// Returns the id that it goes by.
    pub(super) const fn id(&self) -> Option<Id> {
        match self {
            Self::Item(id) | Self::Unfinished(id) => Some(*id),
            _ => None,
        }
    }
}

impl Thing {
    /// Returns the mark that it belongs to.
    pub(super) fn of(&self) -> Option<Id> {
        match self {
            Self::Item(item) => item.of(),
            Self::Unfinished(reading) => Some(reading.of),
            Self::Plane(_) | Self::Value(_) => None,
        }
    }

    /// Returns the same under other ids.
    pub(super) fn renamed(&self, name: impl Fn(Id) -> Id) -> Self {
        let reading = |reading: &Reading| {
            let (id, of) = (name(reading.id), name(reading.of));
            Reading { id, of, ..reading.clone() }
        };
        match self {
            Self::Item(item) => Self::Item(Box::new(match &**item {
                Item::Mark(mark) => {
                    let (id, of) = (name(mark.id), mark.of.map(&name));
                    Item::Mark(Mark { id, of, ..mark.clone() })
                }
                Item::Reading(it) => Item::Reading(reading(it)),
                Item::Call(call) => {
                    let (id, of) = (name(call.id), name(call.of));
                    Item::Call(Call { id, of, ..call.clone() })
                }
            })),
            Self::Unfinished(it) => Self::Unfinished(Box::new(reading(it))),
            Self::Plane(_) | Self::Value(_) => self.clone(),
        }
    }
}

/// Returns everything that marks hold.
pub(super) fn slots(sheaf: &Sheaf) -> BTreeMap<Slot, Thing> {
    let marks = sheaf.marks.iter().cloned().map(Item::Mark);
    let readings = sheaf.readings.iter().cloned().map(Item::Reading);
    let calls = sheaf.calls.iter().cloned().map(Item::Call);
    let items = marks.chain(readings).chain(calls);
    let items = items.map(|item| (Slot::Item(item.id()), Thing::Item(Box::new(item))));
    let unfinished = sheaf.unfinished.iter().map(|reading| {
        (Slot::Unfinished(reading.id), Thing::Unfinished(Box::new(reading.clone())))
    });
    let planes = sheaf
        .planes
        .iter()
        .map(|plane| (Slot::Plane(plane.name.clone()), Thing::Plane(Box::new(plane.clone()))));
    let turn = sheaf.clip.as_ref().and_then(|clip| clip.orientation_override);
    let turn = turn.and_then(|turn| serde_json::to_value(turn).ok());
    let other = sheaf.unknown.iter();
    let other = other.map(|(key, value)| (Slot::Other(key.clone()), Thing::Value(value.clone())));
    items
        .chain(unfinished)
        .chain(planes)
        .chain(turn.map(|turn| (Slot::Turn, Thing::Value(turn))))
        .chain(other)
        .chain(routine_slots(&sheaf.routine))
        .collect()
}

/// Returns what a routine holds, key by key.
pub(super) fn routine_slots(routine: &Routine) -> BTreeMap<Slot, Thing> {
    let Ok(Value::Object(mut keys)) = serde_json::to_value(routine) else {
        return BTreeMap::new();
    };
    let facts = keys.shift_remove(FACTS);
    let facts = facts.iter().filter_map(Value::as_object).flatten();
    let facts = facts.map(|(key, value)| (Slot::Fact(key.clone()), Thing::Value(value.clone())));
    let keys = keys.iter();
    let keys = keys.map(|(key, value)| (Slot::Routine(key.clone()), Thing::Value(value.clone())));
    keys.chain(facts).collect()
}

/// Returns the routine with these slots changed; nothing where that is no routine any more.
pub(super) fn with_slots<'a>(
    routine: &Routine,
    changed: impl Iterator<Item = (&'a Slot, Option<&'a Thing>)>,
) -> Option<Routine> {
    let Ok(Value::Object(mut keys)) = serde_json::to_value(routine) else { return None };
    let put = |keys: &mut Map<String, Value>, key: &str, thing: Option<&Thing>| match thing {
        Some(Thing::Value(value)) => drop(keys.insert(key.to_owned(), value.clone())),
        _ => drop(keys.shift_remove(key)),
    };
    for (slot, thing) in changed {
        match slot {
            Slot::Routine(key) => put(&mut keys, key, thing),
            Slot::Fact(key) => {
                let facts = keys.entry(FACTS).or_insert_with(|| Value::Object(Map::new()));
                put(facts.as_object_mut()?, key, thing);
            }
            _ => {}
        }
    }
    serde_json::from_value(Value::Object(keys)).ok()
}

const FACTS: &str = "facts";
