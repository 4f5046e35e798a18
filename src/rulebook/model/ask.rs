//! What the other rooms ask a book.

use std::collections::BTreeSet;

use super::book::Book;
use crate::{
    rulebook::{
        keys::Entry,
        kinds::{
            angle::Angle, class::Class, connection::Connection, division::Division,
            element::Element, event::Event, panel::Panel, rule::Rule,
        },
        rows::{Kind, Space},
    },
    units::Points,
};

impl Book {
    /// Returns the event of that id.
    pub fn event(&self, id: &str) -> Option<&Event> {
        self.events.iter().find(|event| event.id == id)
    }

    /// Returns the division of that id.
    pub fn division(&self, id: &str) -> Option<&Division> {
        self.divisions.iter().find(|division| division.id == id)
    }

    /// Returns the divisions that compete on the event, easiest first.
    pub fn divisions_of(&self, event: &str) -> impl Iterator<Item = &Division> {
        let named = self.event(event).map_or(&[][..], |event| event.divisions.as_slice());
        self.divisions.iter().filter(move |d| named.is_empty() || named.contains(&d.id))
    }

    /// Returns the element of that id on the event.
    pub fn element<'a>(&'a self, event: &str, id: &str) -> Option<&'a Element> {
        self.elements.iter().find(|element| element.event == event && element.id == id)
    }

    /// Returns the elements of the event in the book's order.
    pub fn elements_of<'a>(&'a self, event: &'a str) -> impl Iterator<Item = &'a Element> {
        self.elements.iter().filter(move |element| element.event == event)
    }

    /// Returns the vaults that the division may do on the event.
    pub fn vaults<'a>(
        &'a self,
        event: &'a str,
        division: &'a str,
    ) -> impl Iterator<Item = &'a Element> {
        self.elements_of(event)
            .filter(move |element| element.vault.is_some() && self.allowed(element, division))
    }

    /// Returns whether the division may use the element.
    pub fn allowed(&self, element: &Element, division: &str) -> bool {
        let listed =
            element.divisions.is_empty() || element.divisions.iter().any(|d| d == division);
        let ceiling = self.division(division).and_then(|division| division.highest_rank);
        let below = match (ceiling, self.rank(element.class_in(division))) {
            (Some(highest), Some(rank)) => rank <= highest,
            _ => true,
        };
        let selected = element.selected.iter().any(|d| d == division);
        selected || (listed && below)
    }

    /// Returns how the scores of several judges become one, where the whole score is put together.
    pub fn panel_of(&self, event: &str, division: &str) -> Option<&Panel> {
        self.panels_of(event, division).into_iter().find(|panel| panel.parts.is_empty())
    }

    /// Returns whether the element, with its class in the division, may stand at this place of the
    /// connection.
    pub(crate) fn connects(
        &self,
        rule: &Connection,
        (element, division): (&Element, &str),
        place: usize,
    ) -> bool {
        let rank = self.rank(element.class_in(division));
        let is_tagged = rule.series.get(place).is_none_or(|tag| element.tags.contains(tag));
        let is_high = |class: &String| rank.is_some() && rank >= self.rank(class);
        is_tagged && rule.from_class.get(place).is_none_or(is_high)
    }

    /// Returns what the element is worth in the division where the book adds elements up.
    pub fn worth(&self, element: &Element, division: &str) -> Points {
        let of_class = || self.class(element.class_in(division)).map(|class| class.value);
        element.value_in(division).or_else(of_class).unwrap_or_default()
    }

    /// Returns the rules whose amounts come off the whole score instead of execution.
    pub(crate) fn neutral_rules(&self, event: &str, division: &str) -> BTreeSet<&str> {
        let neutral = self.rules().into_iter().filter(|rule| rule.is_neutral());
        neutral.filter(|rule| rule.scope().covers(event, division)).filter_map(Entry::id).collect()
    }

    /// Returns the name of the rule of that id, as other rules name it.
    pub(crate) fn label_of(&self, id: &str) -> Option<&str> {
        let is_named = |rule: &&dyn Rule| {
            let is_rule = |kind| matches!(kind, Kind::Defines(Space::Rule | Space::Angle));
            rule.id() == Some(id) && rule.fields().iter().any(|field| is_rule(field.kind))
        };
        self.rules().into_iter().find(is_named).and_then(Entry::label)
    }

    /// Returns the class of that id.
    pub fn class(&self, id: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == id)
    }

    /// Returns the place of a class in the order from low to high.
    pub(crate) fn rank(&self, class: &str) -> Option<usize> {
        self.classes.iter().position(|known| known.id == class)
    }

    /// Returns what is asked of the element's angles.
    pub fn angles_of(&self, element: &Element, event: &str, division: &str) -> Vec<&Angle> {
        let mut angles = self.angles_in(event, division);
        angles.retain(|angle| angle.asks_of(element));
        angles
    }

    /// Returns whether the date lies in the edition's time; an empty date does.
    pub(crate) fn is_valid_on(&self, date: &str) -> bool {
        // Dates are written year first, so their texts are ordered as they are.
        date.is_empty()
            || ((self.valid_from.is_empty() || date >= self.valid_from.as_str())
                && (self.valid_to.is_empty() || date <= self.valid_to.as_str()))
    }
}
