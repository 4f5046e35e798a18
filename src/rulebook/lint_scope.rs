//! Warnings about what covers which event and division: nothing, or two things.

use std::collections::BTreeSet;

use super::{Book, Element, Requirement, Scope, findings::Findings, lint::Spots};

/// Adds warnings, event by event and division by division.
pub fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for division in &book.divisions {
        if !book
            .events
            .iter()
            .any(|event| book.divisions_of(&event.id).any(|d| d.id == division.id))
        {
            let message = format!("the division \"{}\" is on no event", division.id);
            let span = spots.of("division", &division.id, "id");
            findings.warning(&span, message, "name it in the divisions of an event");
        }
    }
    for event in &book.events {
        for division in book.divisions_of(&event.id) {
            pair(book, spots, (&event.id, &division.id), findings);
        }
    }
}

fn pair(
    book: &Book,
    spots: &Spots<'_>,
    (event, division): (&str, &str),
    findings: &mut Findings<'_>,
) {
    let place = spots.of("event", event, "id");
    let covers = |scope: &Scope| scope.covers(event, division);
    let scorings = book.scorings.iter().filter(|rule| covers(&rule.scope)).count();
    if scorings != 1 {
        let message = format!("{scorings} tables [[scoring]] cover {division} on {event}");
        findings.warning(&place, message, "let exactly one cover each event and division");
    }
    let needs: Vec<_> = book.value_parts.iter().filter(|rule| covers(&rule.scope)).collect();
    if needs.len() > 1 {
        let message = format!("{} tables [[value_parts]] cover {division} on {event}", needs.len());
        findings.warning(&place, message, "only the first counts; narrow the others");
    }
    let allowed: Vec<&Element> =
        book.elements_of(event).filter(|element| book.allowed(element, division)).collect();
    for rule in book.requirements.iter().filter(|rule| covers(&rule.scope)) {
        requirement(rule, &allowed, spots, division, findings);
    }
    let Some(needs) = needs.first() else { return };
    for need in &needs.need {
        let fits = |element: &&&Element| {
            element.class == need.class
                || (needs.higher_replaces && book.rank(&element.class) > book.rank(&need.class))
        };
        let families: BTreeSet<&str> =
            allowed.iter().filter(fits).map(|element| element.family.as_str()).collect();
        if families.len() < need.count as usize {
            let message = format!(
                "{division} on {event} needs {} of the class {}, and the book has {}",
                need.count,
                need.class,
                families.len()
            );
            let row = spots.first("value_parts", |row| {
                row.texts("events").iter().any(|name| name == event)
                    && row.texts("divisions").iter().any(|name| name == division)
            });
            let span = row.map_or(place.clone(), |row| row.span_of("need"));
            findings.warning(&span, message, "add elements, or ask for fewer");
        }
    }
}

fn requirement(
    rule: &Requirement,
    allowed: &[&Element],
    spots: &Spots<'_>,
    division: &str,
    findings: &mut Findings<'_>,
) {
    let named = allowed.iter().filter(|element| {
        (rule.elements.contains(&element.id)
            || rule.tags.iter().any(|tag| element.tags.contains(tag)))
            && (rule.classes.is_empty() || rule.classes.contains(&element.class))
            && !rule.except.iter().any(|tag| element.tags.contains(tag))
    });
    let families: BTreeSet<&str> = named.map(|element| element.family.as_str()).collect();
    let enough = if rule.distinct { rule.count as usize } else { 1.min(rule.count as usize) };
    if families.len() < enough {
        let message = format!("nothing that {division} may do meets \"{}\"", rule.id);
        let span = spots.of("requirement", &rule.id, "id");
        findings.warning(&span, message, "check its tags and the divisions of those elements");
    }
}
