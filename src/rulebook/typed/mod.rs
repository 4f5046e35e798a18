//! What a person typed in a book, key by key, and the book as it would be with another value there.

mod named;
mod other;
mod sifted;
mod words;

pub(crate) use named::Named;
pub(crate) use sifted::Sifted;

use std::ops::Range;

use super::{
    model::book::{Book, TABLES},
    read::{
        book::{Find, tables_of},
        build::build,
    },
    rows::{Field, Findings, Kind, Row, Value, Walked},
};

/// A book as its tables, so that one value can be another.
pub(crate) struct TypedBook {
    text: String,
    walked: Walked,
    /// The book as it stands.
    pub book: Book,
}

/// One row that stands in the file itself, not in a book that it is like.
#[derive(Clone)]
pub(crate) struct TypedRow {
    /// Its table.
    pub table: &'static str,
    /// Its place in the table.
    pub at: usize,
}

/// One key that a person typed, or one item of its list.
#[derive(Clone)]
pub(crate) struct TypedKey {
    /// The key, with those of the tables around it: `bands.amount`.
    pub key: String,
    /// The item of the list that it is about; empty where it is about the whole value.
    pub item: String,
    /// Where it stands in the text.
    pub span: Range<usize>,
    path: Vec<Step>,
    others: Vec<Option<Value>>,
}

#[derive(Clone)]
struct Step {
    key: &'static str,
    at: usize,
}

/// A table with another value at one key.
pub(crate) struct OtherTable {
    table: &'static str,
    book: Book,
}

impl OtherTable {
    /// Returns what is asked of the book with this table in the place of its own.
    pub(crate) fn under<T>(&mut self, book: &mut Book, ask: impl FnOnce(&Book) -> T) -> T {
        book.exchange(self.table, &mut self.book);
        let answer = ask(book);
        book.exchange(self.table, &mut self.book);
        answer
    }
}

impl TypedBook {
    /// Returns the book of the text; nothing where it has errors.
    pub(crate) fn read(text: &str, find: Find<'_>) -> Option<Self> {
        let mut findings = Findings::new(text);
        let (walked, _) = tables_of(text, find, &mut findings);
        let book = build(&walked, &mut findings);
        (!findings.any_error()).then(|| Self { text: text.to_owned(), walked, book })
    }

    /// Returns the rows that stand in the file itself, in its order.
    pub(crate) fn rows(&self) -> Vec<TypedRow> {
        let head = self.walked.tables.get("book").and_then(|rows| rows.first());
        let like = head.filter(|head| head.has("like")).map(|head| head.span_of("like"));
        let mut rows = Vec::new();
        for spec in TABLES.iter().filter(|spec| spec.key != "book") {
            let all = self.walked.tables.get(spec.key).map_or(&[][..], Vec::as_slice);
            let own = (0..all.len()).filter(|at| like.as_ref() != Some(&all[*at].span));
            rows.extend(own.map(|at| TypedRow { table: spec.key, at }));
        }
        rows.sort_by_key(|row| self.row(row).span.start);
        rows
    }

    /// Returns the names that the row gives for a key, one or some.
    pub(crate) fn names(&self, row: &TypedRow, key: &str) -> Vec<String> {
        let row = self.row(row);
        let one = Some(row.text(key)).filter(|name| !name.is_empty());
        one.into_iter().chain(row.texts(key)).collect()
    }

    /// Returns whether the row takes credit from an element that it is marked at.
    pub(crate) fn takes_credit(&self, row: &TypedRow) -> bool {
        self.row(row).has("removes")
    }

    /// Returns what the row names.
    pub(crate) fn named(&self, row: &TypedRow) -> Named {
        Named::of(&self.walked, (row.table, self.row(row)))
    }

    /// Returns whether the division is one of these, or takes numbers from one in the end.
    pub(crate) fn is_like(&self, division: &str, own: &[String]) -> bool {
        let all = self.walked.tables.get("division").map_or(&[][..], Vec::as_slice);
        let mut next = division;
        for _ in 0..=all.len() {
            if own.iter().any(|id| id == next) {
                return true;
            }
            let row = all.iter().find(|row| row.word("id") == next);
            next = row.map_or("", |row| row.word("like"));
        }
        false
    }

    /// Returns the keys of the row that can bear on a score, each with what else it could say.
    pub(crate) fn keys(&self, row: &TypedRow) -> Vec<TypedKey> {
        let Some(spec) = TABLES.iter().find(|spec| spec.key == row.table) else {
            return Vec::new();
        };
        let mut keys = Vec::new();
        let known = other::Known::of(&self.walked);
        collect((row.table, spec.fields), self.row(row), (&[], ""), (&known, &mut keys));
        keys
    }

    /// Returns the table as it would be with another value at the key, as far as that is a book.
    pub(crate) fn others(&self, row: &TypedRow, key: &TypedKey) -> Vec<OtherTable> {
        let mut walked = self.beside(row);
        let mut others = Vec::new();
        for other in &key.others {
            let Some(place) = row_of(&mut walked, row) else { break };
            let kept = place.clone();
            set(place, &key.path, other.as_ref());
            others.extend(self.table(row, &walked));
            if let Some(place) = row_of(&mut walked, row) {
                *place = kept;
            }
        }
        // What is written out as it would be without it says nothing, and hides nothing.
        let as_it_is = build(&walked, &mut Findings::new(&self.text));
        if others.iter().any(|other: &OtherTable| other.book == as_it_is) {
            Vec::new()
        } else {
            others
        }
    }

    /// Returns the table as it would be without the row, as far as that is a book.
    pub(crate) fn without(&self, row: &TypedRow) -> Option<OtherTable> {
        let mut walked = self.beside(row);
        walked.tables.get_mut(row.table)?.remove(row.at);
        self.table(row, &walked)
    }

    /// Returns the tables that are read with the row's own.
    fn beside(&self, row: &TypedRow) -> Walked {
        // Rules are read by themselves; what all of them ask is read with everything.
        let names = ["book", "division", "event", "class"];
        let is_of_all = names.contains(&row.table);
        let read = |table: &&str| is_of_all || names.contains(table) || **table == *row.table;
        let tables = self.walked.tables.iter().filter(|(table, _)| read(table));
        let tables = tables.map(|(table, rows)| (*table, rows.clone())).collect();
        Walked { tables, defined: Vec::new(), used: Vec::new(), is_whole: true }
    }

    fn table(&self, row: &TypedRow, walked: &Walked) -> Option<OtherTable> {
        let mut findings = Findings::new(&self.text);
        let book = build(walked, &mut findings);
        (!findings.any_error()).then_some(OtherTable { table: row.table, book })
    }

    fn row(&self, row: &TypedRow) -> &Row {
        &self.walked.tables[row.table][row.at]
    }
}

fn row_of<'w>(walked: &'w mut Walked, row: &TypedRow) -> Option<&'w mut Row> {
    walked.tables.get_mut(row.table)?.get_mut(row.at)
}

/// Puts another value at the end of the path, or takes the key out.
fn set(row: &mut Row, path: &[Step], other: Option<&Value>) {
    let [step, rest @ ..] = path else { return };
    if rest.is_empty() {
        match other {
            Some(value) => row.set(step.key, row.span_of(step.key), value.clone()),
            None => row.remove(step.key),
        }
        // The words for the amounts of a choice are as many as these, and a gate has a place only where
        // something is lost.
        match (step.key, other) {
            ("choice", _) => row.remove("means"),
            ("gates", None) => row.remove("gate_within"),
            _ => {}
        }
        return;
    }
    let span = row.span_of(step.key);
    match row.cell(step.key).map(|cell| cell.value.clone()) {
        Some(Value::Row(mut inner)) => {
            set(&mut inner, rest, other);
            row.set(step.key, span, Value::Row(inner));
        }
        Some(Value::Rows(mut inner)) => {
            if let Some(one) = inner.get_mut(step.at) {
                set(one, rest, other);
            }
            row.set(step.key, span, Value::Rows(inner));
        }
        _ => {}
    }
}

fn collect(
    (table, fields): (&'static str, &'static [Field]),
    row: &Row,
    (path, before): (&[Step], &str),
    (known, keys): (&other::Known, &mut Vec<TypedKey>),
) {
    for (key, cell) in row.cells() {
        let Some(field) = fields.iter().find(|field| field.key == key) else { continue };
        if words::is_said(table, field) {
            continue;
        }
        let name = format!("{before}{key}");
        let step = |at| [path, &[Step { key: field.key, at }]].concat();
        match (&cell.value, field.kind) {
            (Value::Row(inner), Kind::Table(fields)) => {
                collect((table, fields), inner, (&step(0), &format!("{name}.")), (known, keys));
            }
            (Value::Rows(inner), Kind::Tables(fields)) => {
                for (at, one) in inner.iter().enumerate() {
                    let before = format!("{name}.");
                    collect((table, fields), one, (&step(at), &before), (known, keys));
                }
            }
            _ => {
                for (item, others) in other::others(field, &cell.value, known) {
                    let span = cell.span.clone();
                    keys.push(TypedKey { key: name.clone(), item, span, path: step(0), others });
                }
            }
        }
    }
}
