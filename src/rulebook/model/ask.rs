//! What the other rooms ask a book.

use std::collections::BTreeSet;

use crate::{
    rulebook::{
        Angle, Attempts, Bonus, Book, Cap, Class, Connection, Division, Element, Event, Fault,
        Merge, Panel, Replace, Requirement, Scope, Scoring, Text, Time, TooFew, TooMany,
        ValueParts, When,
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
        let below = match (ceiling, self.rank(&element.class)) {
            (Some(highest), Some(rank)) => rank <= highest,
            _ => true,
        };
        let selected = element.selected.iter().any(|d| d == division);
        selected || (listed && below)
    }

    /// Returns what the element is worth where the book adds elements up.
    pub fn worth(&self, element: &Element) -> Points {
        let of_class = || self.class(&element.class).map(|class| class.value);
        element.value.or_else(of_class).unwrap_or_default()
    }

    /// Returns the rules whose amounts come off the whole score instead of execution.
    pub(crate) fn neutral_rules(&self, event: &str, division: &str) -> BTreeSet<&str> {
        let faults = self.faults.iter().filter(|it| it.neutral).map(|it| (&it.id, &it.scope));
        let whens = self.whens.iter().filter(|it| it.neutral).map(|it| (&it.id, &it.scope));
        let times = self.times.iter().filter(|it| it.neutral).map(|it| (&it.id, &it.scope));
        let few = self.too_few.iter().filter(|it| it.neutral).map(|it| (&it.id, &it.scope));
        let texts = self.texts.iter().filter(|it| it.neutral).map(|it| (&it.id, &it.scope));
        let all = faults.chain(whens).chain(times).chain(few).chain(texts);
        all.filter(|(_, scope)| scope.covers(event, division)).map(|(id, _)| id.as_str()).collect()
    }

    /// Returns the class of that id.
    pub fn class(&self, id: &str) -> Option<&Class> {
        self.classes.iter().find(|class| class.id == id)
    }

    /// Returns the place of a class in the order from low to high.
    pub(crate) fn rank(&self, class: &str) -> Option<usize> {
        self.classes.iter().position(|known| known.id == class)
    }

    /// Returns the faults that the division counts on the event, in the book's order.
    pub fn faults_of(&self, event: &str, division: &str) -> Vec<&Fault> {
        covering(&self.faults, event, division, |fault| &fault.scope)
    }

    /// Returns the rules on falls, spots, swings, stops, contacts and landings.
    pub(crate) fn whens_of(&self, event: &str, division: &str) -> Vec<&When> {
        covering(&self.whens, event, division, |when| &when.scope)
    }

    /// Returns the requirements of the event and division.
    pub(crate) fn requirements_of(&self, event: &str, division: &str) -> Vec<&Requirement> {
        covering(&self.requirements, event, division, |requirement| &requirement.scope)
    }

    /// Returns what is asked of the element's angles.
    pub fn angles_of(&self, element: &Element, event: &str, division: &str) -> Vec<&Angle> {
        let mut angles = covering(&self.angles, event, division, |angle| &angle.scope);
        angles.retain(|angle| angle.asks_of(element));
        angles
    }

    /// Returns the limits on groups of rules.
    pub(crate) fn caps_of(&self, event: &str, division: &str) -> Vec<&Cap> {
        covering(&self.caps, event, division, |cap| &cap.scope)
    }

    /// Returns what replaces what.
    pub(crate) fn replaces_of(&self, event: &str, division: &str) -> Vec<&Replace> {
        covering(&self.replaces, event, division, |replace| &replace.scope)
    }

    /// Returns the small faults that make larger ones.
    pub(crate) fn merges_of(&self, event: &str, division: &str) -> Vec<&Merge> {
        covering(&self.merges, event, division, |merge| &merge.scope)
    }

    /// Returns what may be shown only so often.
    pub(crate) fn too_many_of(&self, event: &str, division: &str) -> Vec<&TooMany> {
        covering(&self.too_many, event, division, |rule| &rule.scope)
    }

    /// Returns what too few elements cost.
    pub(crate) fn too_few_of(&self, event: &str, division: &str) -> Vec<&TooFew> {
        covering(&self.too_few, event, division, |rule| &rule.scope)
    }

    /// Returns the limits of time.
    pub(crate) fn times_of(&self, event: &str, division: &str) -> Vec<&Time> {
        covering(&self.times, event, division, |rule| &rule.scope)
    }

    /// Returns what adds to the score.
    pub(crate) fn bonuses_of(&self, event: &str, division: &str) -> Vec<&Bonus> {
        covering(&self.bonuses, event, division, |rule| &rule.scope)
    }

    /// Returns what adds to the score where elements follow one another.
    pub(crate) fn connections_of(&self, event: &str, division: &str) -> Vec<&Connection> {
        covering(&self.connections, event, division, |rule| &rule.scope)
    }

    /// Returns the text of the compulsory routine.
    pub fn text_of(&self, event: &str, division: &str) -> Option<&Text> {
        self.texts.iter().find(|text| text.scope.covers(event, division))
    }

    /// Returns how the scores of several attempts become one.
    pub fn attempts_of(&self, event: &str, division: &str) -> Option<&Attempts> {
        self.attempts.iter().find(|rule| rule.scope.covers(event, division))
    }

    /// Returns how the scores of several judges become one.
    pub fn panel_of(&self, event: &str, division: &str) -> Option<&Panel> {
        self.panels.iter().find(|panel| panel.scope.covers(event, division))
    }

    /// Returns how many value parts are asked for.
    pub(crate) fn value_parts_of(&self, event: &str, division: &str) -> Option<&ValueParts> {
        self.value_parts.iter().find(|parts| parts.scope.covers(event, division))
    }

    /// Returns how the score is built.
    pub fn scoring(&self, event: &str, division: &str) -> Option<&Scoring> {
        self.scorings.iter().find(|scoring| scoring.scope.covers(event, division))
    }

    /// Returns whether the date lies in the edition's time; an empty date does.
    pub(crate) fn is_valid_on(&self, date: &str) -> bool {
        // Dates are written year first, so their texts are ordered as they are.
        date.is_empty()
            || ((self.valid_from.is_empty() || date >= self.valid_from.as_str())
                && (self.valid_to.is_empty() || date <= self.valid_to.as_str()))
    }
}

fn covering<'a, T>(
    rules: &'a [T],
    event: &str,
    division: &str,
    scope: impl Fn(&T) -> &Scope,
) -> Vec<&'a T> {
    rules.iter().filter(|rule| scope(rule).covers(event, division)).collect()
}
