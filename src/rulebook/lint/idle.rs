//! Warnings about keys that name something which never comes about: tags that no element there has,
//! amounts that no rule takes, a count of none, an element that is its own pair.

use crate::rulebook::{
    Book, FaultAmount, Merge,
    kinds::{ledger::Holds, rule::Place},
    model::book::TABLES,
    rows::{Findings, Kind, Row, Space},
};
use crate::units::Points;

use super::spots::{Spots, Worthless, pairs};

/// Adds the warnings.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    counts(spots, findings);
    own(spots, findings);
    merges(book, spots, findings);
    worths(book, spots, findings);
}

/// Warns of tags that no element carries where the rule holds.
pub(crate) fn tags(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for spec in TABLES {
        let keys = spec.fields.iter().filter(|key| matches!(key.kind, Kind::NamesSome(Space::Tag)));
        let keys: Vec<&str> = keys.map(|field| field.key).collect();
        for row in spots.rows(spec.key) {
            for key in &keys {
                carried(book, row, (row, key), findings);
            }
            for limit in row.rows("limits") {
                carried(book, row, (limit, "tags"), findings);
            }
        }
    }
}

fn carried(book: &Book, rule: &Row, (row, key): (&Row, &str), findings: &mut Findings<'_>) {
    let events = rule.texts("events");
    for tag in row.texts(key) {
        let here = |event: &String| events.is_empty() || events.contains(event);
        if book.elements.iter().any(|it| here(&it.event) && it.tags.contains(&tag)) {
            continue;
        }
        let on =
            if events.is_empty() { String::new() } else { format!(" on {}", events.join(", ")) };
        let message = format!("no element{on} carries the tag \"{tag}\"");
        findings.warning(
            &row.span_of(key),
            message,
            "give it to an element there, or take it out here",
        );
    }
}

/// Counts of which none is no count at all.
const NONE: &[(&str, &str, &str)] = &[
    ("requirement", "", "count"),
    ("value_parts", "need", "count"),
    ("scoring", "", "best"),
    ("scoring", "", "same_counts"),
    ("connection", "", "at_most"),
    ("bonus", "", "at_most"),
    ("too_few", "steps", "below"),
];

fn counts(spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for (table, inner, key) in NONE {
        for row in spots.rows(table) {
            let rows = if inner.is_empty() { std::slice::from_ref(row) } else { row.rows(inner) };
            for row in rows.iter().filter(|row| row.count(key) == Some(0)) {
                let message = format!("{key} = 0 asks for nothing and gives nothing");
                findings.warning(&row.span_of(key), message, "write 1 or more, or take it out");
            }
        }
    }
}

/// Warns of elements that are their own pair, or become themselves.
fn own(spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for row in spots.rows("element") {
        for key in ["pair", "becomes"] {
            if row.has(key) && row.word(key) == row.word("id") {
                let message = format!("\"{key}\" of \"{}\" names itself", row.word("id"));
                findings.warning(
                    &row.span_of(key),
                    message,
                    "name another element, or take it out",
                );
            }
        }
    }
}

/// Warns of amounts that merge and that their rule never takes.
fn merges(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for merge in &book.merges {
        if merge.into == merge.of.times(i64::from(merge.count)) {
            let row = spots.first("merge", |row| row.word("rule") == merge.rule);
            let message = format!(
                "{} of {} are {} without merging",
                merge.count,
                merge.of.short(),
                merge.into.short()
            );
            let span = row.map_or(0..0, |row| row.span_of("into"));
            findings.warning(&span, message, "write what they make together, or take this out");
        }
        if pairs(book, &merge.scope).any(|at| takes(book, merge, at)) {
            continue;
        }
        let (rule, of) = (&merge.rule, merge.of.short());
        let row = spots
            .first("merge", |row| row.word("rule") == *rule && row.points("of") == Some(merge.of));
        let message = format!("\"{rule}\" never takes {of}, so that nothing merges");
        let span = row.map_or(0..0, |row| row.span_of("of"));
        findings.warning(&span, message, "write an amount that it takes where this holds");
    }
}

fn takes(book: &Book, merge: &Merge, at: (&str, &str)) -> bool {
    let fault = book.faults_of(at.0, at.1).into_iter().find(|fault| fault.id == merge.rule);
    if let Some(fault) = fault {
        return match &fault.amount {
            FaultAmount::Flat(amount) => *amount == merge.of,
            FaultAmount::UpTo { max, grid } => merge.of <= *max && merge.of.0 % grid.0 == 0,
            FaultAmount::Choice(amounts) => amounts.contains(&merge.of),
            FaultAmount::OfValue(_) => true,
        };
    }
    let rules = book.rules();
    let mut here = rules.iter().filter(|it| it.scope().covers(at.0, at.1));
    here.find(|it| it.id() == Some(merge.rule.as_str())).is_some_and(|rule| {
        let taken = rule
            .taken(Place::Element, &Worthless)
            .or_else(|| rule.taken(Place::Exercise, &Worthless));
        taken.is_some_and(|taken| (taken.once[0]..=taken.once[1]).contains(&merge.of))
    })
}

/// Warns of classes without a value where elements add up, and of values that nothing adds up.
fn worths(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let adds = |event: &str, division: &str| {
        book.scoring(event, division).is_some_and(|it| it.ledger.holds(Holds::Elements))
    };
    let may = |element: &crate::rulebook::Element| {
        let divisions =
            book.divisions_of(&element.event).filter(|it| book.allowed(element, &it.id));
        divisions.map(|it| it.id.as_str()).collect::<Vec<_>>()
    };
    for row in spots.rows("class").iter().filter(|row| !row.has("value")) {
        let class = row.word("id");
        let idle = book.elements.iter().find(|element| {
            may(element).into_iter().any(|division| {
                adds(&element.event, division)
                    && element.class_in(division) == class
                    && element.value_in(division).is_none()
            })
        });
        if let Some(element) = idle {
            let message = format!(
                "the class \"{class}\" has no value, so that \"{}\" adds nothing where elements add up",
                element.id
            );
            findings.warning(
                &row.span_of("id"),
                message,
                "add value = 0.1, or give its elements one each",
            );
        }
    }
    let is_asked = book.faults.iter().any(|it| matches!(it.amount, FaultAmount::OfValue(_)))
        || book.caps.iter().any(|cap| cap.plus_value)
        || book.texts.iter().any(|text| text.left_out_value != Points::ZERO);
    for row in spots.rows("element").iter().filter(|row| row.has("value") && !row.has("class")) {
        if !is_asked {
            let message = format!(
                "\"{}\" has a value and no class, so that it never adds it",
                row.word("id")
            );
            findings.warning(
                &row.span_of("value"),
                message,
                "give it a class: what has none is no value part and adds nothing",
            );
        }
    }
}
