//! What is legal in a book and still hardly meant.

use std::{collections::BTreeMap, ops::Range};

use super::{
    Angle, BandAmount, Book, Element, FaultAmount,
    findings::Findings,
    lint_scope, lint_sums,
    row::{Row, Value, VariesFrom},
    walk::Walked,
};

/// Adds warnings about the book to the findings.
pub fn lint(book: &Book, walked: &Walked, findings: &mut Findings<'_>) {
    let spots = Spots { walked };
    for angle in &book.angles {
        bands(angle, &spots, findings);
    }
    grids(book, &spots, findings);
    idle_elements(book, &spots, findings);
    shorthands(book, &spots, findings);
    idle_numbers(walked, findings);
    lint_scope::lint(book, &spots, findings);
    lint_sums::lint(book, &spots, findings);
}

/// Finds the place of a rule in the file.
pub struct Spots<'a> {
    walked: &'a Walked,
}

impl Spots<'_> {
    /// Returns the bytes of a key of the row with that id, or of the row itself.
    pub fn of(&self, table: &str, id: &str, key: &str) -> Range<usize> {
        self.first(table, |row| row.word("id") == id).map_or(0..0, |row| row.span_of(key))
    }

    /// Returns the first row of the table that the question picks.
    pub fn first(&self, table: &str, picks: impl Fn(&Row) -> bool) -> Option<&Row> {
        self.walked.tables.get(table)?.iter().find(|row| picks(row))
    }
}

fn bands(angle: &Angle, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let span = spots.of("angle", &angle.id, "bands");
    for pair in angle.bands.windows(2) {
        let Some(end) = pair[0].up_to else { continue };
        let begin = pair[1].over;
        if begin > end {
            let message = format!("being {end} to {begin} short lies in no band");
            findings.warning(&span, message, "leave \"over\" out: a band begins where one ends");
        } else if begin < end {
            let message = format!("being {begin} to {end} short lies in two bands");
            findings.warning(&span, message, "let each band begin where the one before it ends");
        }
    }
    let Some(end) = angle.bands.last().and_then(|band| band.up_to) else { return };
    if angle.gates.is_empty() || angle.gate_within > end {
        let message = format!("being more than {end} short costs nothing");
        findings.warning(&span, message, "leave \"up_to\" out of the last band");
    }
}

fn grids(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for fault in &book.faults {
        if let FaultAmount::UpTo { max, grid } = fault.amount
            && max.0 % grid.0 != 0
        {
            let message = format!("{} is not reached in steps of {}", max.short(), grid.short());
            let span = spots.of("fault", &fault.id, "up_to");
            findings.warning(&span, message, "choose a grid that divides the limit");
        }
    }
    for angle in &book.angles {
        for band in &angle.bands {
            if let BandAmount::Proportional { from, to, grid } = band.amount
                && (from.0 % grid.0 != 0 || to.0 % grid.0 != 0)
            {
                let message = format!("the band's ends do not lie on steps of {}", grid.short());
                let span = spots.of("angle", &angle.id, "bands");
                findings.warning(&span, message, "choose a grid that divides both ends");
            }
        }
    }
}

/// Warns of elements that are no value part, serve no requirement and are asked for nothing.
fn idle_elements(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for element in book.elements.iter().filter(|element| element.class.is_empty()) {
        let named = |ids: &[String], tags: &[String]| {
            ids.contains(&element.id) || tags.iter().any(|tag| element.tags.contains(tag))
        };
        let serves = element.vault.is_some()
            || element.value.is_some()
            || book.requirements.iter().any(|rule| named(&rule.elements, &rule.tags))
            || book.angles.iter().any(|rule| named(&rule.elements, &rule.tags))
            || book.elements.iter().any(|o| o.pair == element.id || o.becomes == element.id);
        if !serves {
            let message = format!("the element \"{}\" serves nothing", element.id);
            let span = spots.of("element", &element.id, "id");
            findings.warning(&span, message, "give it a class, or a tag that a requirement names");
        }
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

/// Returns whether two lists, where an empty one means all, have something in common.
pub fn together(a: &[String], b: &[String]) -> bool {
    a.is_empty() || b.is_empty() || a.iter().any(|name| b.contains(name))
}

/// Warns of numbers of a division that no rule calls.
fn idle_numbers(walked: &Walked, findings: &mut Findings<'_>) {
    let mut called = Vec::new();
    walked.tables.values().flatten().for_each(|row| names_called(row, &mut called));
    let divisions = walked.tables.get("division").into_iter().flatten();
    for row in divisions {
        let Some(Value::Numbers(numbers)) = row.cell("numbers").map(|cell| &cell.value) else {
            continue;
        };
        for (name, raw) in numbers.iter().filter(|(name, _)| !called.contains(name)) {
            let message = format!("no rule calls the number \"{name}\"");
            findings.warning(
                &raw.span,
                message,
                "write its name, in quotes, in the place of a number",
            );
        }
    }
}

fn names_called(row: &Row, called: &mut Vec<String>) {
    for (_, cell) in row.cells() {
        match &cell.value {
            Value::Varies(varies) => {
                if let VariesFrom::Name(name) = &varies.from {
                    called.push(name.clone());
                }
            }
            Value::Row(inner) => names_called(inner, called),
            Value::Rows(rows) => rows.iter().for_each(|row| names_called(row, called)),
            _ => {}
        }
    }
}
