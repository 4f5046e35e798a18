//! Warnings about what covers which event and division: nothing, or two things.

use crate::rulebook::{Book, Scope, rows::Findings};

use super::spots::{self, Spots};

/// Adds warnings, event by event and division by division.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for division in &book.divisions {
        let competes = |event: &str| book.divisions_of(event).any(|d| d.id == division.id);
        if !book.events.iter().any(|event| competes(&event.id)) {
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
    idle_rules(book, spots, findings);
}

fn pair(
    book: &Book,
    spots: &Spots<'_>,
    (event, division): (&str, &str),
    findings: &mut Findings<'_>,
) {
    let place = |table: &str| {
        let covering = spots.last(table, |row| spots::covers(row, (event, division)));
        covering.map_or_else(|| spots.of("event", event, "id"), |row| row.span.clone())
    };
    let covers = |scope: &Scope| scope.covers(event, division);
    let scorings = book.scorings.iter().filter(|rule| covers(&rule.scope)).count();
    if scorings != 1 {
        let message = format!("{scorings} tables [[scoring]] cover {division} on {event}");
        findings.warning(
            &place("scoring"),
            message,
            "let exactly one cover each event and division",
        );
    }
    let parts = book.value_parts.iter().filter(|rule| covers(&rule.scope)).count();
    if parts > 1 {
        let message = format!("{parts} tables [[value_parts]] cover {division} on {event}");
        findings.warning(
            &place("value_parts"),
            message,
            "only the first counts; narrow the others",
        );
    }
    let texts = book.texts.iter().filter(|rule| covers(&rule.scope)).count();
    if texts > 1 {
        let message = format!("{texts} tables [[text]] cover {division} on {event}");
        findings.warning(&place("text"), message, "only the first counts; narrow the others");
    }
}

/// Warns of rules for a division on an event where it does not compete.
fn idle_rules(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for rule in book.rules() {
        let (Some(id), scope) = (rule.id(), rule.scope()) else { continue };
        for division in &scope.divisions {
            let mut events = book.events.iter().filter(|it| scope.covers_event(&it.id));
            if events.any(|it| book.divisions_of(&it.id).any(|d| d.id == *division)) {
                continue;
            }
            let message = format!("{division} is on none of the events of \"{id}\"");
            let span = spots.of(rule.table(), id, "divisions");
            let remedy = "name it in the divisions of the event, or take it out here";
            findings.warning(&span, message, remedy);
        }
    }
}
