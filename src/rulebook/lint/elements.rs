//! Warnings about elements that serve nothing, and shorthands that stand for two things.

use std::collections::BTreeMap;

use crate::rulebook::{
    Book, Consequence, Element, Scoring, ValueParts,
    kinds::{ledger::Holds, rule::Used},
    rows::Findings,
};

use super::spots::{Spots, together};

/// Adds warnings about elements and shorthands.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    idle_elements(book, spots, findings);
    shorthands(book, spots, findings);
}

/// Warns of elements that nobody may do, that are no value part anywhere, and that no rule names.
fn idle_elements(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let used = used(book);
    let is_known = |element: &Element| element.vault.is_some() || has_use(&used, element);
    for element in book.elements.iter().filter(|element| !is_known(element)) {
        let Some((why, remedy)) = why_idle(book, element) else { continue };
        let message = format!("the element \"{}\" {why}", element.id);
        findings.warning(&spots.of("element", &element.id, "id"), message, remedy);
    }
}

/// Returns why an element that no rule names serves nothing, and what to do about it.
fn why_idle(book: &Book, element: &Element) -> Option<(&'static str, &'static str)> {
    if element.classes().next().is_none() {
        let remedy = "give it a class, or a tag that a requirement names";
        let has_value = book.divisions.iter().any(|it| element.value_in(&it.id).is_some());
        return (!has_value).then_some(("serves nothing", remedy));
    }
    let (may, may_not): (Vec<_>, Vec<_>) =
        book.divisions_of(&element.event).partition(|division| book.allowed(element, &division.id));
    if may.is_empty() {
        // Where doing it costs something, that is what it is listed for.
        let is_free = may_not.iter().all(|division| {
            let scoring = book.scoring(&element.event, &division.id);
            scoring.is_none_or(|scoring| scoring.not_allowed == Consequence::NoCredit)
        });
        let remedy = "check its class against the divisions' highest, and its divisions";
        return (is_free && !may_not.is_empty()).then_some(("may be done by no division", remedy));
    }
    let is_idle = !may.iter().any(|division| counts(book, element, &division.id));
    // Where no division counts value parts, elements are listed to be named.
    let is_counted =
        may.iter().any(|division| book.value_parts_of(&element.event, &division.id).is_some());
    let remedy = "ask for its class in [[value_parts]], or give it a tag that a requirement names";
    (is_idle && is_counted).then_some(("fills no place of the value parts", remedy))
}

/// Returns whether the element may be a value part of the division, or is added up there.
fn counts(book: &Book, element: &Element, division: &str) -> bool {
    let event = &element.event;
    let open = |scoring: &Scoring| scoring.ledger.holds(Holds::Elements);
    let rank = book.rank(element.class_in(division));
    let fits = |parts: &ValueParts| {
        parts.need.iter().any(|need| {
            let place = book.rank(&need.class);
            need.count > 0 && parts.takes(rank, place)
        })
    };
    book.scoring(event, division).is_some_and(open)
        || book.value_parts_of(event, division).is_some_and(fits)
}

/// Returns what the rules of the book, and its other elements, have a use for.
fn used(book: &Book) -> Used<'_> {
    let mut used = Used::default();
    for rule in book.rules() {
        rule.uses(&mut used);
    }
    for element in &book.elements {
        used.elements.extend([element.pair.as_str(), element.becomes.as_str()]);
    }
    used
}

fn has_use(used: &Used<'_>, element: &Element) -> bool {
    used.elements.contains(element.id.as_str())
        || element.classes().any(|class| used.classes.contains(class))
        || element.tags.iter().any(|tag| used.tags.contains(tag.as_str()))
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
