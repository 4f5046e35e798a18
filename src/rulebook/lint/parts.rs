//! Warnings about what no part of a score holds, and parts that nothing is taken off.

use std::collections::BTreeSet;

use crate::rulebook::{
    Book, Scoring,
    kinds::{ledger::Holds, rule::Place},
    rows::Findings,
};
use crate::units::Points;

use super::spots::{Spots, Worthless, covers, pairs};

/// Adds the warnings, one for each way of scoring and what it leaves out.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for scoring in &book.scorings {
        let at: Vec<(&str, &str)> = pairs(book, &scoring.scope)
            .filter(|at| book.scoring(at.0, at.1).is_some_and(|it| std::ptr::eq(it, scoring)))
            .collect();
        let Some(row) = at.first().and_then(|at| spots.first("scoring", |row| covers(row, *at)))
        else {
            continue;
        };
        let span = if row.has("parts") { row.span_of("parts") } else { row.span_of("formula") };
        for (what, holds, adds) in KINDS {
            let mut idle = at.iter().filter_map(|at| adds(book, *at).map(|id| (id, at)));
            let Some((id, at)) = idle.next() else { continue };
            if holds.iter().any(|holds| scoring.ledger.holds(*holds)) {
                continue;
            }
            let message = format!(
                "no part holds {what}, so that {id} changes no score of {} on {}",
                at.1, at.0
            );
            findings.warning(&span, message, "add it to \"holds\" of a part, or narrow that rule");
        }
        untouched(book, scoring, &at, (&span, findings));
    }
}

type Adds = for<'b> fn(&'b Book, (&str, &str)) -> Option<String>;

/// What a part may hold, in words, with the rule that needs it.
const KINDS: [(&str, &[Holds], Adds); 3] = [
    ("\"bonus\"", &[Holds::Bonus], |book, (event, division)| {
        let bonus = book.bonuses_of(event, division).first().map(|it| it.id.clone());
        let connection = || book.connections_of(event, division).first().map(|it| it.id.clone());
        bonus.or_else(connection).map(|id| format!("\"{id}\""))
    }),
    ("\"value-parts\"", &[Holds::ValueParts], |book, (event, division)| {
        let parts = book.value_parts_of(event, division)?;
        let costs = parts.need.iter().any(|need| need.count > 0 && need.price > Points::ZERO);
        costs.then(|| "[[value_parts]]".to_owned())
    }),
    (
        "\"requirements\" or \"met-requirements\"",
        &[Holds::Requirements, Holds::Met],
        |book, (event, division)| {
            let rules = book.requirements_of(event, division);
            let mut costly = rules.iter().filter(|it| it.price > Points::ZERO);
            costly.next().map(|it| format!("\"{}\"", it.id))
        },
    ),
];

/// Warns of a part that begins with something, and whose groups no rule has there.
fn untouched(
    book: &Book,
    scoring: &Scoring,
    at: &[(&str, &str)],
    (span, findings): (&std::ops::Range<usize>, &mut Findings<'_>),
) {
    let mut groups: BTreeSet<&str> = BTreeSet::new();
    let rules = book.rules();
    for rule in &rules {
        if !at.iter().any(|at| rule.scope().covers(at.0, at.1)) {
            continue;
        }
        for place in [Place::Element, Place::Exercise] {
            let taken = rule.taken(place, &Worthless);
            groups.extend(taken.iter().flat_map(|taken| taken.groups).map(String::as_str));
        }
    }
    for part in scoring.ledger.parts.iter().filter(|part| part.holds.is_empty()) {
        if !part.groups.iter().any(|group| groups.contains(group.as_str())) {
            let message = format!(
                "nothing is ever taken off the part \"{}\": no rule there has group = \"{}\"",
                part.id,
                part.groups.join("\" or \"")
            );
            findings.warning(span, message, "give a fault that group, or leave the part out");
        }
    }
}
