//! What the warnings about a book ask of a kind of rule.

use std::collections::BTreeSet;

use crate::{rulebook::keys::Entry, units::Points};

/// A kind of rule; what it does not say of itself, it has none of.
pub(crate) trait Rule: Entry {
    /// Returns what it takes at such a place; nothing where it takes none there.
    fn taken(&self, _place: Place, _worths: &dyn Worths) -> Option<Taken<'_>> {
        None
    }

    /// Adds the elements that are of use to it.
    fn uses<'b>(&'b self, _used: &mut Used<'b>) {}
}

/// Where an amount stands: a rule takes the place of others at the same one only.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    /// At an element.
    Element,
    /// At none: before the first, or of the whole exercise.
    Exercise,
}

/// What elements are worth.
pub(crate) trait Worths {
    /// Returns the worth of the element of that id on the event.
    fn of(&self, element: &str) -> Points;

    /// Returns the most that any is worth.
    fn most(&self) -> Points;
}

/// What a rule takes at one place.
pub(crate) struct Taken<'b> {
    /// The least and the most that it takes once.
    pub once: [Points; 2],
    /// Whether it may be taken again and again.
    pub again: bool,
    /// Groups for caps.
    pub groups: &'b [String],
    /// Whether it makes the exercise void.
    pub void: bool,
}

impl Taken<'_> {
    /// Returns an amount that is taken once and belongs to no group.
    pub(crate) const fn alone(once: [Points; 2], void: bool) -> Self {
        Self { once, again: false, groups: &[], void }
    }
}

/// The elements that rules have a use for.
#[derive(Default)]
pub(crate) struct Used<'b> {
    /// By their ids.
    pub elements: BTreeSet<&'b str>,
    /// By a tag.
    pub tags: BTreeSet<&'b str>,
    /// By their class.
    pub classes: BTreeSet<&'b str>,
}

impl<'b> Used<'b> {
    /// Adds elements by their ids and by their tags.
    pub(crate) fn add(&mut self, elements: &'b [String], tags: &'b [String]) {
        self.elements.extend(elements.iter().map(String::as_str));
        self.tags.extend(tags.iter().map(String::as_str));
    }
}
