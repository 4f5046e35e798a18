//! A book that is like another, except for what it says itself.

use std::{
    collections::{BTreeMap, BTreeSet},
    ops::Range,
};

use crate::rulebook::rows::{Findings, Row, Space, Walked};

/// Returns the tables of `base` with those of `own` in their place.
///
/// A row takes the place of all rows of its id; those of a table without ids have all the same,
/// so that the whole list does. Everything taken from the base is reported at the place that names
/// it.
pub(crate) fn inherit(base: Walked, mut own: Walked, findings: &mut Findings<'_>) -> Walked {
    let (span, without) = asked(&base, &own, findings);
    let mut gone: Vec<Range<usize>> = Vec::new();
    let mut tables = BTreeMap::new();
    for (key, rows) in base.tables {
        let mine = own.tables.remove(key).unwrap_or_default();
        let (kept, dropped): (Vec<Row>, Vec<Row>) =
            rows.into_iter().partition(|row| key != "book" && !without.contains(row.word("id")));
        let replaced = kept.iter().filter(|row| mine.iter().any(|own| same(own, row)));
        gone.extend(dropped.iter().chain(replaced).flat_map(cells));
        tables.insert(key, in_place(kept, mine, &span));
    }
    tables.append(&mut own.tables);
    let is_gone =
        |at: &Range<usize>| gone.iter().any(|gone| gone.start <= at.start && at.end <= gone.end);
    let left_out = |space: Space, name: &String| {
        !matches!(space, Space::Tag | Space::Group) && without.contains(name)
    };
    own.defined.extend(base.defined.into_iter().filter(|(space, name)| !left_out(*space, name)));
    let used = base.used.into_iter().filter(|(_, _, at)| !is_gone(at));
    own.used.extend(used.map(|(space, name, _)| (space, name, span.clone())));
    Walked { tables, ..own }
}

/// Returns where the base is named, and the ids that are left out.
fn asked(
    base: &Walked,
    own: &Walked,
    findings: &mut Findings<'_>,
) -> (Range<usize>, BTreeSet<String>) {
    let Some(head) = own.tables.get("book").and_then(|rows| rows.first()) else {
        return (0..0, BTreeSet::new());
    };
    let rows = base.tables.values().flatten().filter(|row| row.has("id"));
    let known: BTreeSet<&str> = rows.map(|row| row.word("id")).collect();
    let without: BTreeSet<String> = head.texts("without").into_iter().collect();
    for name in without.iter().filter(|name| !known.contains(name.as_str())) {
        findings.unknown(&head.span_of("without"), ("id", name), known.iter().copied());
    }
    (head.span_of("like"), without)
}

fn same(a: &Row, b: &Row) -> bool {
    a.word("id") == b.word("id") && a.word("event") == b.word("event")
}

fn cells(row: &Row) -> impl Iterator<Item = Range<usize>> {
    row.cells().map(|(_, cell)| cell.span.clone())
}

/// Puts each own row where the row of its id stood, and new ones at the end.
fn in_place(kept: Vec<Row>, mine: Vec<Row>, span: &Range<usize>) -> Vec<Row> {
    let mut left: Vec<Option<Row>> = mine.into_iter().map(Some).collect();
    let mut rows = Vec::new();
    let mut taken: BTreeSet<(String, String)> = BTreeSet::new();
    for row in kept {
        let named = (row.text("id"), row.text("event"));
        let own: Vec<Row> = left
            .iter_mut()
            .filter(|own| own.as_ref().is_some_and(|own| same(own, &row)))
            .filter_map(Option::take)
            .collect();
        if !own.is_empty() {
            taken.insert(named);
            rows.extend(own);
        } else if !taken.contains(&named) {
            rows.push(row.moved(span));
        }
    }
    rows.extend(left.into_iter().flatten());
    rows
}
