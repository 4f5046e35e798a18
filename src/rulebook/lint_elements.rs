//! Warnings about elements that serve nothing, and shorthands that stand for two things.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    Book, Element,
    findings::Findings,
    lint::{Spots, together},
};

/// Adds warnings about elements and shorthands.
pub fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    idle_elements(book, spots, findings);
    shorthands(book, spots, findings);
}

/// Warns of elements that are no value part, serve no rule and are asked for nothing.
fn idle_elements(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let named = Named::of(book);
    for element in book.elements.iter().filter(|element| element.class.is_empty()) {
        if element.vault.is_none() && element.value.is_none() && !named.has(element) {
            let message = format!("the element \"{}\" serves nothing", element.id);
            let span = spots.of("element", &element.id, "id");
            findings.warning(&span, message, "give it a class, or a tag that a requirement names");
        }
    }
}

/// What the rules of a book name.
struct Named<'b> {
    elements: BTreeSet<&'b str>,
    tags: BTreeSet<&'b str>,
}

impl<'b> Named<'b> {
    fn of(book: &'b Book) -> Self {
        let mut named = Self { elements: BTreeSet::new(), tags: BTreeSet::new() };
        for rule in &book.requirements {
            named.add(&rule.elements, &[&rule.tags, &rule.with, &rule.follow.links]);
        }
        for rule in &book.angles {
            named.add(&rule.elements, &[&rule.tags]);
        }
        for rule in &book.bonuses {
            named.add(&rule.elements, &[&rule.tags]);
        }
        for rule in &book.too_many {
            named.add(&rule.elements, &[&rule.tags]);
        }
        for rule in &book.connections {
            named.add(&[], &[&rule.series, &rule.follow.links]);
        }
        for rule in &book.texts {
            named.add(&rule.elements, &[]);
        }
        for element in &book.elements {
            named.elements.extend([element.pair.as_str(), element.becomes.as_str()]);
        }
        named
    }

    fn add(&mut self, elements: &'b [String], tags: &[&'b Vec<String>]) {
        self.elements.extend(elements.iter().map(String::as_str));
        self.tags.extend(tags.iter().flat_map(|tags| tags.iter()).map(String::as_str));
    }

    fn has(&self, element: &Element) -> bool {
        self.elements.contains(element.id.as_str())
            || element.tags.iter().any(|tag| self.tags.contains(tag.as_str()))
    }
}

/// Warns where one shorthand stands for two things in the same event and division.
fn shorthands(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let mut elements: BTreeMap<(&str, &str), Vec<&Element>> = BTreeMap::new();
    for element in book.elements.iter().filter(|element| !element.shorthand.is_empty()) {
        let same = elements.entry((&element.event, &element.shorthand)).or_default();
        if same.iter().any(|other| together(&other.divisions, &element.divisions)) {
            let message =
                format!("the shorthand \"{}\" stands for two elements", element.shorthand);
            let span = spots.of("element", &element.id, "shorthand");
            findings.warning(&span, message, "give one of them another");
        }
        same.push(element);
    }
    for (at, fault) in book.faults.iter().enumerate() {
        let clash = book.faults[..at].iter().any(|other| {
            !fault.shorthand.is_empty()
                && other.shorthand == fault.shorthand
                && together(&other.scope.events, &fault.scope.events)
                && together(&other.scope.divisions, &fault.scope.divisions)
        });
        if clash {
            let message = format!("the shorthand \"{}\" stands for two faults", fault.shorthand);
            let span = spots.of("fault", &fault.id, "shorthand");
            findings.warning(&span, message, "give one of them another");
        }
    }
}
