//! Changes of a [`Sheaf`], each with its inverse, and the history that undo walks along.

use serde::{Deserialize, Serialize};

use super::model::{How, Id, Item, Reading, ReferencePlane, Routine, Sheaf};
use crate::{
    geometry::input::{Rotation, Travel},
    units::Orientation,
};

/// One change that a person made.
///
/// It holds what was there before, so that it can be undone without asking anybody.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Edit {
    /// Sets, replaces or takes away one mark, reading or call.
    Item {
        /// What was there; nothing when it is new.
        before: Option<Box<Item>>,
        /// What is there afterwards; nothing when it is taken away.
        after: Option<Box<Item>>,
    },
    /// Changes what the routine is.
    Routine {
        /// As it was.
        before: Box<Routine>,
        /// As it is afterwards.
        after: Box<Routine>,
    },
    /// Turns the picture of a wrongly tagged clip.
    Orientation {
        /// As it was.
        before: Option<Orientation>,
        /// As it is afterwards.
        after: Option<Orientation>,
    },
    /// Moves everything to another copy of the clip.
    Copy {
        /// All marks as they were.
        before: Box<Sheaf>,
        /// All marks as they are afterwards.
        after: Box<Sheaf>,
    },
    /// Sets, replaces or takes away one reading whose points are still being placed.
    Unfinished {
        /// What was there.
        before: Option<Box<Reading>>,
        /// What is there afterwards.
        after: Option<Box<Reading>>,
    },
    /// Sets, replaces or takes away one reference plane.
    Plane {
        /// What was there.
        before: Option<Box<ReferencePlane>>,
        /// What is there afterwards.
        after: Option<Box<ReferencePlane>>,
    },
    /// Several changes that are undone together, in their order.
    Together(Vec<Edit>),
}

impl Edit {
    /// Returns the edit that puts in something new.
    pub fn add(item: Item) -> Self {
        Self::Item { before: None, after: Some(Box::new(item)) }
    }

    /// Returns the edit that puts `item` in the place of what has its id now.
    pub fn change(sheaf: &Sheaf, item: Item) -> Self {
        Self::Item { before: sheaf.item(item.id()).map(Box::new), after: Some(Box::new(item)) }
    }

    /// Returns the edit that takes away `id` and everything that hangs under it; nothing when
    /// there is no such item.
    pub fn remove(sheaf: &Sheaf, id: Id) -> Option<Self> {
        let item = sheaf.item(id)?;
        let hanging = sheaf.hanging_under(id).into_iter().filter_map(|id| Self::remove(sheaf, id));
        let own = Self::Item { before: Some(Box::new(item)), after: None };
        let loose = sheaf.unfinished.iter().filter(|reading| reading.of == id || reading.id == id);
        let loose = loose.map(|reading| Self::unfinished(sheaf, reading.id, None));
        Some(Self::Together(hanging.chain(loose).chain([own]).collect()))
    }

    /// Returns the edit after which `after` is the unfinished reading of that id.
    pub fn unfinished(sheaf: &Sheaf, id: Id, after: Option<Reading>) -> Self {
        let before = sheaf.unfinished(id).cloned().map(Box::new);
        Self::Unfinished { before, after: after.map(Box::new) }
    }

    /// Returns the edit after which `after` is the plane of that name.
    pub fn plane(sheaf: &Sheaf, name: &str, after: Option<ReferencePlane>) -> Self {
        let before = sheaf.plane(name).cloned().map(Box::new);
        Self::Plane { before, after: after.map(Box::new) }
    }

    /// Returns the edit that changes what the routine is.
    pub fn routine(sheaf: &Sheaf, after: Routine) -> Self {
        Self::Routine { before: Box::new(sheaf.routine.clone()), after: Box::new(after) }
    }

    /// Returns the edit that turns and mirrors the picture of a wrongly tagged clip by hand;
    /// nothing when the routine has no clip or its picture stands so already.
    ///
    /// No click moves: they are kept in coded pixels. What was said as left or right of the picture
    /// (direction of travel, sense of a turn) is said anew where left and right change places, so
    /// that a turn keeps its true direction.
    pub fn orient(sheaf: &Sheaf, after: Option<Orientation>) -> Option<Self> {
        let clip = sheaf.clip.as_ref()?;
        let before = clip.orientation_override;
        if before == after {
            return None;
        }
        let shown = |turn: Option<Orientation>| turn.unwrap_or(clip.upright.orientation);
        let sides = Sides::between(shown(before), shown(after));
        let said = sheaf.readings.iter().filter_map(|reading| {
            let how = sides.of(&reading.how);
            let after = Item::Reading(Reading { how, ..reading.clone() });
            (after != Item::Reading(reading.clone())).then(|| Self::change(sheaf, after))
        });
        Some(Self::Together(
            [Self::Orientation { before, after }].into_iter().chain(said).collect(),
        ))
    }

    /// Returns the edit that undoes this one.
    #[must_use]
    pub fn inverse(&self) -> Self {
        match self.clone() {
            Self::Item { before, after } => Self::Item { before: after, after: before },
            Self::Routine { before, after } => Self::Routine { before: after, after: before },
            Self::Orientation { before, after } => {
                Self::Orientation { before: after, after: before }
            }
            Self::Copy { before, after } => Self::Copy { before: after, after: before },
            Self::Unfinished { before, after } => Self::Unfinished { before: after, after: before },
            Self::Plane { before, after } => Self::Plane { before: after, after: before },
            Self::Together(edits) => {
                Self::Together(edits.iter().rev().map(Self::inverse).collect())
            }
        }
    }

    /// Carries the change out.
    pub fn apply(&self, sheaf: &mut Sheaf) {
        match self {
            Self::Item { before, after } => {
                if let Some(item) = before {
                    take_out(sheaf, item.id());
                }
                if let Some(item) = after {
                    put_in(sheaf, (**item).clone());
                }
            }
            Self::Routine { after, .. } => sheaf.routine = (**after).clone(),
            Self::Orientation { after, .. } => {
                if let Some(clip) = &mut sheaf.clip {
                    clip.orientation_override = *after;
                }
            }
            Self::Copy { after, .. } => *sheaf = (**after).clone(),
            Self::Unfinished { before, after } => {
                if let Some(reading) = before {
                    sheaf.unfinished.retain(|other| other.id != reading.id);
                }
                if let Some(reading) = after {
                    insert_by_id(&mut sheaf.unfinished, (**reading).clone(), |it| it.id);
                }
            }
            Self::Plane { before, after } => {
                let place = take_out_plane(sheaf, before.as_deref());
                if let Some(plane) = after {
                    let place = place.unwrap_or(sheaf.planes.len());
                    sheaf.planes.insert(place, (**plane).clone());
                }
            }
            Self::Together(edits) => edits.iter().for_each(|edit| edit.apply(sheaf)),
        }
    }

    /// Returns the ids that occur in the edit.
    pub fn ids(&self) -> Vec<Id> {
        match self {
            Self::Item { before, after } => {
                [before, after].into_iter().flatten().map(|item| item.id()).collect()
            }
            Self::Together(edits) => edits.iter().flat_map(Self::ids).collect(),
            Self::Copy { before, after } => before.ids().chain(after.ids()).collect(),
            Self::Unfinished { before, after } => {
                [before, after].into_iter().flatten().map(|it| it.id).collect()
            }
            Self::Routine { .. } | Self::Orientation { .. } | Self::Plane { .. } => Vec::new(),
        }
    }
}

/// What of left and right changes places when a picture is turned or mirrored.
struct Sides {
    /// Left and right of the picture, for what moves across it.
    across: bool,
    /// Left and right of an athlete who turns.
    hand: bool,
}

impl Sides {
    fn between(before: Orientation, after: Orientation) -> Self {
        // Where what points right now will point; a quarter turn sends it up or down, which says
        // nothing about left and right.
        let [x, _] = after.turn(before.turn_back([1.0, 0.0]));
        Self { across: x < -0.5, hand: before.mirrored != after.mirrored }
    }

    fn of(&self, how: &How) -> How {
        let mut how = how.clone();
        if self.across {
            how.travel = how.travel.map(|travel| match travel {
                Travel::Left => Travel::Right,
                Travel::Right => Travel::Left,
            });
        }
        if self.hand {
            how.rotation = how.rotation.map(|rotation| match rotation {
                Rotation::Left => Rotation::Right,
                Rotation::Right => Rotation::Left,
            });
        }
        how
    }
}

fn take_out(sheaf: &mut Sheaf, id: Id) {
    sheaf.marks.retain(|mark| mark.id != id);
    sheaf.readings.retain(|reading| reading.id != id);
    sheaf.calls.retain(|call| call.id != id);
}

/// Takes a plane out and returns its place among the others.
fn take_out_plane(sheaf: &mut Sheaf, plane: Option<&ReferencePlane>) -> Option<usize> {
    let name = &plane?.name;
    let place = sheaf.planes.iter().position(|other| other.name == *name)?;
    sheaf.planes.remove(place);
    Some(place)
}

/// Puts an item in at the place that its id gives it, so that undoing a removal restores the
/// file byte for byte.
fn put_in(sheaf: &mut Sheaf, item: Item) {
    match item {
        Item::Mark(mark) => insert_by_id(&mut sheaf.marks, mark, |mark| mark.id),
        Item::Reading(reading) => insert_by_id(&mut sheaf.readings, reading, |reading| reading.id),
        Item::Call(call) => insert_by_id(&mut sheaf.calls, call, |call| call.id),
    }
}

fn insert_by_id<T>(items: &mut Vec<T>, item: T, id_of: impl Fn(&T) -> Id) {
    let place = items.iter().position(|other| id_of(other) >= id_of(&item));
    match place {
        Some(place) if id_of(&items[place]) == id_of(&item) => items[place] = item,
        Some(place) => items.insert(place, item),
        None => items.push(item),
    }
}

/// What was done, and how far of it is undone at the moment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct History {
    edits: Vec<Edit>,
    /// How many of `edits` are in force.
    done: usize,
    /// By which step each of them was last put in force.
    since: Vec<u64>,
    /// How many steps were noted.
    noted: u64,
}

/// One move along the history; what the journal keeps.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Step {
    /// A new change.
    Do(Edit),
    /// The last change in force is undone.
    Undo,
    /// The last change undone is done again.
    Redo,
}

impl History {
    /// Takes one step and changes `sheaf` accordingly; returns whether there was anything to do.
    pub fn take(&mut self, step: Step, sheaf: &mut Sheaf) -> bool {
        match self.note(step) {
            Some(edit) => {
                edit.apply(sheaf);
                true
            }
            None => false,
        }
    }

    /// Takes one step and returns the change that it means for the sheaf.
    pub fn note(&mut self, step: Step) -> Option<Edit> {
        self.noted += 1;
        match step {
            Step::Do(edit) => {
                // What was undone and then written over is gone from the way forward, as
                // everybody expects of undo.
                self.edits.truncate(self.done);
                self.since.truncate(self.done);
                self.edits.push(edit.clone());
                self.since.push(self.noted);
                self.done += 1;
                Some(edit)
            }
            Step::Undo => {
                self.done = self.done.checked_sub(1)?;
                self.edits.get(self.done).map(Edit::inverse)
            }
            Step::Redo => {
                let edit = self.edits.get(self.done)?.clone();
                if let Some(since) = self.since.get_mut(self.done) {
                    *since = self.noted;
                }
                self.done += 1;
                Some(edit)
            }
        }
    }

    /// Returns whether something can be undone.
    pub fn can_undo(&self) -> bool {
        self.done > 0
    }

    /// Returns whether something can be done again.
    pub(crate) fn can_redo(&self) -> bool {
        self.done < self.edits.len()
    }

    /// Returns the changes in force that were made after so many steps.
    pub(crate) fn in_force_after(&self, steps: u64) -> impl Iterator<Item = &Edit> {
        let made = self.edits.iter().zip(&self.since).take(self.done);
        made.filter(move |(_, since)| **since > steps).map(|(edit, _)| edit)
    }

    /// Returns the ids that any change ever used.
    pub fn ids(&self) -> impl Iterator<Item = Id> {
        self.edits.iter().flat_map(Edit::ids)
    }
}
