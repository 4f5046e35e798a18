//! A table of the file after its keys and kinds of values were checked.

use std::{collections::BTreeMap, ops::Range};

use crate::units::Points;

/// A checked table: only known keys, each with a value of the right kind.
#[derive(Clone, Debug, Default)]
pub(crate) struct Row {
    /// The bytes of the text that it was read from.
    pub span: Range<usize>,
    // Few enough to be looked through, and cheaper to make than a map.
    cells: Vec<(&'static str, Cell)>,
}

/// A checked value.
#[derive(Clone, Debug)]
pub(crate) struct Cell {
    /// The bytes of the text that it was read from.
    pub span: Range<usize>,
    /// The value.
    pub value: Value,
}

/// Values by kind.
#[derive(Clone, Debug)]
pub(crate) enum Value {
    /// Text, a word, a name or a date.
    Text(String),
    /// true or false.
    Flag(bool),
    /// An amount.
    Points(Points),
    /// Degrees.
    Degrees(f64),
    /// A whole number.
    Count(u32),
    /// A list of texts.
    Texts(Vec<String>),
    /// A list of amounts.
    Amounts(Vec<Points>),
    /// From, to.
    Span([u16; 2]),
    /// A table.
    Row(Row),
    /// Tables.
    Rows(Vec<Row>),
    /// A number or a name that differs by division, not settled yet.
    Varies(Varies),
    /// Written, but not usable; the error is already reported.
    Unusable,
    /// Numbers by name, as they are written.
    Numbers(BTreeMap<String, Raw>),
}

/// A number that differs by division.
#[derive(Clone, Debug)]
pub(crate) struct Varies {
    /// What it must be.
    pub kind: super::field::Kind,
    /// Where it comes from.
    pub from: VariesFrom,
}

/// Where a number that differs by division comes from.
#[derive(Clone, Debug)]
pub(crate) enum VariesFrom {
    /// From the divisions' own numbers, by this name.
    Name(String),
    /// From this table of numbers by division.
    Table(BTreeMap<String, Raw>),
}

/// A number as it is written.
#[derive(Clone, Debug)]
pub(crate) struct Raw {
    /// Its text.
    pub text: String,
    /// The bytes that it was read from.
    pub span: Range<usize>,
}

impl Row {
    /// Returns an empty table of these bytes.
    pub(crate) fn new(span: Range<usize>) -> Self {
        Self { span, cells: Vec::new() }
    }

    /// Sets a cell.
    pub(crate) fn set(&mut self, key: &'static str, span: Range<usize>, value: Value) {
        let cell = Cell { span, value };
        match self.cells.iter_mut().find(|(known, _)| *known == key) {
            Some((_, old)) => *old = cell,
            None => self.cells.push((key, cell)),
        }
    }

    /// Takes a key out.
    pub(crate) fn remove(&mut self, key: &str) {
        self.cells.retain(|(known, _)| *known != key);
    }

    /// Returns the table as if all of it had been read at this place.
    pub(crate) fn moved(&self, span: &Range<usize>) -> Self {
        let mut moved = Self::new(span.clone());
        for (key, cell) in self.cells() {
            let value = match &cell.value {
                Value::Row(row) => Value::Row(row.moved(span)),
                Value::Rows(rows) => Value::Rows(rows.iter().map(|row| row.moved(span)).collect()),
                Value::Numbers(numbers) => Value::Numbers(moved_numbers(numbers, span)),
                Value::Varies(Varies { kind, from: VariesFrom::Table(table) }) => {
                    let from = VariesFrom::Table(moved_numbers(table, span));
                    Value::Varies(Varies { kind: *kind, from })
                }
                other => other.clone(),
            };
            moved.set(key, span.clone(), value);
        }
        moved
    }

    /// Returns a cell.
    pub(crate) fn cell(&self, key: &str) -> Option<&Cell> {
        self.cells.iter().find(|(known, _)| *known == key).map(|(_, cell)| cell)
    }

    /// Returns all cells in the order in which they were set.
    pub(crate) fn cells(&self) -> impl Iterator<Item = (&'static str, &Cell)> {
        self.cells.iter().map(|(key, cell)| (*key, cell))
    }

    /// Returns whether the key was written.
    pub(crate) fn has(&self, key: &str) -> bool {
        self.cell(key).is_some()
    }

    /// Returns whether a key says the same in both, as far as it is a text, a word, a flag or a span.
    pub(crate) fn is_alike(&self, other: &Self, key: &str) -> bool {
        let (a, b) = (self.cell(key), other.cell(key));
        match (a.map(|cell| &cell.value), b.map(|cell| &cell.value)) {
            (Some(Value::Text(a)), Some(Value::Text(b))) => a == b,
            (Some(Value::Texts(a)), Some(Value::Texts(b))) => a == b,
            (Some(Value::Flag(a)), Some(Value::Flag(b))) => a == b,
            (Some(Value::Span(a)), Some(Value::Span(b))) => a == b,
            (a, b) => a.is_some() == b.is_some(),
        }
    }

    /// Returns the bytes of a key's value, or of the table where the key is not there.
    pub(crate) fn span_of(&self, key: &str) -> Range<usize> {
        self.cell(key).map_or_else(|| self.span.clone(), |cell| cell.span.clone())
    }

    /// Returns a text, empty where there is none.
    pub(crate) fn text(&self, key: &str) -> String {
        self.word(key).to_owned()
    }

    /// Returns a text, empty where there is none.
    pub(crate) fn word(&self, key: &str) -> &str {
        match self.cell(key).map(|cell| &cell.value) {
            Some(Value::Text(text)) => text,
            _ => "",
        }
    }

    /// Returns a list of texts, empty where there is none.
    pub(crate) fn texts(&self, key: &str) -> Vec<String> {
        match self.cell(key).map(|cell| &cell.value) {
            Some(Value::Texts(texts)) => texts.clone(),
            _ => Vec::new(),
        }
    }

    /// Returns an amount.
    pub(crate) fn points(&self, key: &str) -> Option<Points> {
        match self.cell(key)?.value {
            Value::Points(points) => Some(points),
            _ => None,
        }
    }

    /// Returns a list of amounts.
    pub(crate) fn amounts(&self, key: &str) -> Vec<Points> {
        match self.cell(key).map(|cell| &cell.value) {
            Some(Value::Amounts(amounts)) => amounts.clone(),
            _ => Vec::new(),
        }
    }

    /// Returns degrees.
    pub(crate) fn degrees(&self, key: &str) -> Option<f64> {
        match self.cell(key)?.value {
            Value::Degrees(degrees) => Some(degrees),
            _ => None,
        }
    }

    /// Returns a whole number.
    pub(crate) fn count(&self, key: &str) -> Option<u32> {
        match self.cell(key)?.value {
            Value::Count(count) => Some(count),
            _ => None,
        }
    }

    /// Returns true or false.
    pub(crate) fn flag(&self, key: &str) -> Option<bool> {
        match self.cell(key)?.value {
            Value::Flag(flag) => Some(flag),
            _ => None,
        }
    }

    /// Returns from and to.
    pub(crate) fn range(&self, key: &str) -> Option<[u16; 2]> {
        match self.cell(key)?.value {
            Value::Span(range) => Some(range),
            _ => None,
        }
    }

    /// Returns an inner table.
    pub(crate) fn row(&self, key: &str) -> Option<&Row> {
        match &self.cell(key)?.value {
            Value::Row(row) => Some(row),
            _ => None,
        }
    }

    /// Returns inner tables.
    pub(crate) fn rows(&self, key: &str) -> &[Row] {
        match self.cell(key).map(|cell| &cell.value) {
            Some(Value::Rows(rows)) => rows,
            _ => &[],
        }
    }
}

fn moved_numbers(numbers: &BTreeMap<String, Raw>, span: &Range<usize>) -> BTreeMap<String, Raw> {
    let moved = |raw: &Raw| Raw { text: raw.text.clone(), span: span.clone() };
    numbers.iter().map(|(name, raw)| (name.clone(), moved(raw))).collect()
}
