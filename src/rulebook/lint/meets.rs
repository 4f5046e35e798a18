//! Warnings about what nothing that a division may do can meet: requirements, value parts,
//! connections, bonuses and their limits, texts.

use std::collections::BTreeSet;

use crate::rulebook::{Book, Element, Requirement, ValueParts, rows::Findings};

use super::spots::{Spots, covers, pairs};

/// Adds warnings, event by event and division by division.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for event in &book.events {
        let elements: Vec<&Element> = book.elements_of(&event.id).collect();
        let divisions: Vec<At<'_>> = book
            .divisions_of(&event.id)
            .map(|division| {
                let may = |element: &&Element| book.allowed(element, &division.id);
                let allowed = elements.iter().map(may).collect();
                At { event: &event.id, division: &division.id, allowed }
            })
            .collect();
        requirements(book, spots, (&elements, &divisions), findings);
        for at in &divisions {
            if let Some(rule) = book.value_parts_of(at.event, at.division) {
                value_parts(book, rule, spots, (&elements, at), findings);
            }
        }
    }
    connections(book, spots, findings);
    bonuses(book, spots, findings);
    bonus_limits(book, spots, findings);
    texts(book, spots, findings);
}

/// One event and division, and which of the event's elements may be done there.
struct At<'b> {
    event: &'b str,
    division: &'b str,
    allowed: Vec<bool>,
}

/// Returns whether so many elements are different ones; looks no further than it must.
fn are_enough<'b>(elements: impl Iterator<Item = &'b Element>, wanted: usize) -> bool {
    let mut families: BTreeSet<&str> = BTreeSet::new();
    let mut new = elements.filter(|element| families.insert(&element.family));
    wanted == 0 || new.nth(wanted - 1).is_some()
}

fn has_one(element: &Element, tags: &[String]) -> bool {
    tags.iter().any(|tag| element.tags.contains(tag))
}

fn requirements(
    book: &Book,
    spots: &Spots<'_>,
    (elements, divisions): (&[&Element], &[At<'_>]),
    findings: &mut Findings<'_>,
) {
    for rule in &book.requirements {
        let covered = |at: &At<'_>| rule.scope.covers(at.event, at.division);
        if !divisions.iter().any(covered) {
            continue;
        }
        let named: Vec<usize> =
            (0..elements.len()).filter(|place| is_named(rule, elements[*place])).collect();
        let cannot = |at: &&At<'_>| {
            let may = named.iter().filter(|place| at.allowed[**place]);
            let may = may.map(|place| elements[*place]);
            let serves: Vec<&Element> = may.filter(|it| is_of_class(rule, it, at)).collect();
            covered(at) && !is_possible(rule, &serves)
        };
        let who: Vec<&str> = divisions.iter().filter(cannot).map(|at| at.division).collect();
        if who.is_empty() {
            continue;
        }
        let message = format!("nothing that {} may do meets \"{}\"", who.join(", "), rule.id);
        let span = spots.of("requirement", &rule.id, "id");
        findings.warning(&span, message, "check its tags and the divisions of those elements");
    }
}

fn is_named(rule: &Requirement, element: &Element) -> bool {
    (rule.elements.contains(&element.id) || has_one(element, &rule.tags))
        && !has_one(element, &rule.except)
}

fn is_of_class(rule: &Requirement, element: &Element, at: &At<'_>) -> bool {
    rule.classes.is_empty() || rule.classes.iter().any(|it| it == element.class_in(at.division))
}

fn is_possible(rule: &Requirement, serves: &[&Element]) -> bool {
    let enough = if rule.distinct { rule.count as usize } else { 1.min(rule.count as usize) };
    let tags = rule.tags.iter().filter(|tag| serves.iter().any(|it| it.tags.contains(tag)));
    are_enough(serves.iter().copied(), enough)
        && (!rule.each_tag || tags.count() >= rule.count as usize)
        && (rule.with.is_empty() || serves.iter().any(|element| has_one(element, &rule.with)))
}

fn value_parts(
    book: &Book,
    rule: &ValueParts,
    spots: &Spots<'_>,
    (elements, at): (&[&Element], &At<'_>),
    findings: &mut Findings<'_>,
) {
    for need in &rule.need {
        let rank = book.rank(&need.class);
        let fitting = || {
            let allowed = elements.iter().zip(&at.allowed).filter(|(_, allowed)| **allowed);
            let own = |element: &Element| book.rank(element.class_in(at.division));
            let fits = allowed.filter(move |(element, _)| rule.takes(own(element), rank));
            fits.map(|(element, _)| *element)
        };
        if are_enough(fitting(), need.count as usize) {
            continue;
        }
        let families: BTreeSet<&str> = fitting().map(|element| element.family.as_str()).collect();
        let message = format!(
            "{} on {} needs {} of the class {}, and the book has {}",
            at.division,
            at.event,
            need.count,
            need.class,
            families.len()
        );
        let row = spots.first("value_parts", |row| covers(row, (at.event, at.division)));
        let span = row.map_or(0..0, |row| row.span_of("need"));
        findings.warning(&span, message, "add elements, or ask for fewer");
    }
}

fn connections(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for rule in &book.connections {
        let can = |(event, division): (&str, &str)| {
            (0..rule.length()).all(|place| {
                let mut elements = book.elements_of(event);
                elements.any(|it| {
                    book.connects(rule, (it, division), place) && book.allowed(it, division)
                })
            })
        };
        if !pairs(book, &rule.scope).any(can) {
            let message = format!("no division can show the connection \"{}\"", rule.id);
            let span = spots.of("connection", &rule.id, "series");
            findings.warning(&span, message, "check the tags of the elements on its events");
        }
    }
}

fn bonuses(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for rule in book.bonuses.iter().filter(|rule| rule.fact.is_empty()) {
        let earns =
            |element: &Element| rule.elements.contains(&element.id) || has_one(element, &rule.tags);
        let can = |(event, division): (&str, &str)| {
            book.elements_of(event).any(|it| earns(it) && book.allowed(it, division))
        };
        if !pairs(book, &rule.scope).any(can) {
            let message = format!("no division can earn the bonus \"{}\"", rule.id);
            let span = spots.of("bonus", &rule.id, "id");
            findings.warning(&span, message, "check its tags and the divisions of those elements");
        }
    }
}

/// Warns of limits where nothing adds to the score.
fn bonus_limits(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for rule in &book.bonus_limits {
        let adds = |(event, division): (&str, &str)| {
            !book.bonuses_of(event, division).is_empty()
                || !book.connections_of(event, division).is_empty()
        };
        if !pairs(book, &rule.scope).any(adds) {
            let message = format!("\"{}\" limits bonuses where there are none", rule.id);
            let span = spots.of("bonus_limit", &rule.id, "id");
            findings.warning(&span, message, "check its events and divisions, or leave it out");
        }
    }
}

/// Warns of texts with elements that are not on their event, or not for their division.
fn texts(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for rule in &book.texts {
        for (event, division) in pairs(book, &rule.scope) {
            let may = |id: &&String| {
                book.element(event, id).is_some_and(|element| book.allowed(element, division))
            };
            if let Some(element) = rule.elements.iter().find(|id| !may(id)) {
                let message = format!("{division} on {event} may not do \"{element}\" of its text");
                let span = spots.of("text", &rule.id, "elements");
                let remedy = "say events and divisions of the text, or take the element out";
                findings.warning(&span, message, remedy);
                break;
            }
        }
    }
}
