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
    let places = Places::of(&base, &own);
    let mut gone: Vec<Range<usize>> = Vec::new();
    let mut tables = BTreeMap::new();
    for (key, rows) in base.tables {
        let mine = own.tables.remove(key).unwrap_or_default();
        let (kept, dropped): (Vec<Row>, Vec<Row>) =
            rows.into_iter().partition(|row| key != "book" && !without.contains(row.word("id")));
        if !matches!(key, "book" | "event" | "division" | "class" | "element") {
            places.lost((&kept, &mine), findings);
        }
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
    for name in &without {
        let has = |rows: &&Vec<Row>| rows.iter().any(|row| row.word("id") == name);
        let tables = base.tables.iter().filter(|(_, rows)| has(rows)).map(|(key, _)| *key);
        let tables: Vec<&str> = tables.filter(|key| *key != "book").collect();
        if tables.len() > 1 {
            let message =
                format!("\"{name}\" leaves out more than one thing: {}", tables.join(" and "));
            let remedy = "type again here what should stay";
            findings.warning(&head.span_of("without"), message, remedy);
        }
    }
    (head.span_of("like"), without)
}

/// The events and divisions that both books know.
struct Places {
    events: BTreeSet<String>,
    divisions: BTreeSet<String>,
}

impl Places {
    fn of(base: &Walked, own: &Walked) -> Self {
        let named = |space| {
            let all = base.defined.iter().chain(&own.defined);
            all.filter(move |(known, _)| *known == space).map(|(_, name)| name.clone()).collect()
        };
        Self { events: named(Space::Event), divisions: named(Space::Division) }
    }

    /// Warns of rows that take the place of others and hold in fewer places than those did.
    fn lost(&self, (kept, mine): (&[Row], &[Row]), findings: &mut Findings<'_>) {
        for (at, own) in mine.iter().enumerate().filter(|(_, own)| own.has("id")) {
            // Told once, at the first row of that id.
            if mine[..at].iter().any(|before| same(before, own)) {
                continue;
            }
            let of = |rows: &[Row]| {
                let rows = rows.iter().filter(|row| same(row, own));
                rows.flat_map(|row| self.covered(row)).collect::<BTreeSet<_>>()
            };
            let (was, is) = (of(kept), of(mine));
            let lost: Vec<&(String, String)> = was.difference(&is).collect();
            if lost.is_empty() {
                continue;
            }
            let (id, places) = (own.word("id"), self.in_words(&lost));
            let message = format!("nothing of \"{id}\" is left {places}");
            let remedy = "a row takes the place of every row of that id in the other book: add one \
                          for the rest, or name it in \"without\" too where that is meant";
            findings.warning(&own.span_of("id"), message, remedy);
        }
    }

    /// Returns the events and divisions in which a row holds.
    fn covered(&self, row: &Row) -> Vec<(String, String)> {
        let or_all = |names: Vec<String>, all: &BTreeSet<String>| {
            if names.is_empty() { all.iter().cloned().collect() } else { names }
        };
        let events = or_all(row.texts("events"), &self.events);
        let divisions = or_all(row.texts("divisions"), &self.divisions);
        let each = |event: &String| {
            divisions.iter().map(|it| (event.clone(), it.clone())).collect::<Vec<_>>()
        };
        events.iter().flat_map(each).collect()
    }

    /// Returns where something is lost: on whole events, in whole divisions, or place by place.
    fn in_words(&self, lost: &[&(String, String)]) -> String {
        const SHOWN: usize = 4;
        let events: BTreeSet<&str> = lost.iter().map(|(event, _)| event.as_str()).collect();
        let divisions: BTreeSet<&str> = lost.iter().map(|(_, it)| it.as_str()).collect();
        let list = |names: &BTreeSet<&str>| names.iter().copied().collect::<Vec<_>>().join(", ");
        if lost.len() == events.len() * self.divisions.len() {
            format!("on {}", list(&events))
        } else if lost.len() == divisions.len() * self.events.len() {
            format!("in {}", list(&divisions))
        } else {
            let named = lost.iter().take(SHOWN).map(|(event, it)| format!("in {it} on {event}"));
            let more = if lost.len() > SHOWN { " and elsewhere" } else { "" };
            named.collect::<Vec<_>>().join(", ") + more
        }
    }
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
