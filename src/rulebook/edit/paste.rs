//! Rows that were copied out of a spreadsheet, or come from a CSV file.

use std::collections::BTreeSet;

use toml_edit::Value;

use super::{draft::Draft, place::RowAt, written::value};
use crate::rulebook::{
    keys::Table as _,
    kinds::element::Element,
    rows::{Field, Kind},
};

/// Rows of elements that are about to be taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Pasted {
    /// The cells, row by row, all rows of one length.
    pub rows: Vec<Vec<String>>,
    /// For each column, the key it fills; nothing where it is passed over.
    pub columns: Vec<Option<&'static str>>,
}

/// Columns, at most.
const MOST: usize = 30;

/// What a column of a spreadsheet may be called, beside the key itself.
const CALLED: &[(&str, &[&str])] = &[
    ("name", &["element", "skill", "description"]),
    ("class", &["value", "difficulty", "group", "letter"]),
    ("code", &["no", "nr", "number", "#"]),
    ("shorthand", &["symbol", "short"]),
    ("tags", &["kind", "type"]),
    ("where", &["page", "p"]),
    ("event", &["apparatus"]),
];

impl Pasted {
    /// Reads what was pasted: cells with tabs, semicolons or commas between them.
    ///
    /// # Errors
    ///
    /// Says what is wrong, with the line.
    pub(crate) fn read(text: &str) -> Result<Self, String> {
        let first = text.lines().next().unwrap_or_default();
        let between = [b'\t', b';'].into_iter().find(|it| first.as_bytes().contains(it));
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(between.unwrap_or(b','))
            .has_headers(false)
            .flexible(true)
            .trim(csv::Trim::All)
            .from_reader(text.as_bytes());
        let mut rows: Vec<Vec<String>> = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|error| error.to_string())?;
            let cells: Vec<String> = record.iter().take(MOST).map(str::to_owned).collect();
            if cells.iter().any(|cell| !cell.is_empty()) {
                rows.push(cells);
            }
        }
        let width = rows.iter().map(Vec::len).max().unwrap_or(0);
        if width == 0 {
            return Err("there is nothing in it".to_owned());
        }
        for row in &mut rows {
            row.resize(width, String::new());
        }
        let mut columns: Vec<Option<&'static str>> =
            rows[0].iter().map(|cell| called(cell)).collect();
        if columns.iter().any(Option::is_some) {
            rows.remove(0);
        } else {
            // The longest texts are the names.
            let length = |at: &usize| rows.iter().map(|row| row[*at].len()).sum::<usize>();
            if let Some(longest) = (0..width).max_by_key(length) {
                columns[longest] = Some("name");
            }
        }
        let mut seen = BTreeSet::new();
        for column in &mut columns {
            *column = column.filter(|key| seen.insert(*key));
        }
        Ok(Self { rows, columns })
    }

    /// Gives a column another meaning; no two have the same.
    pub(crate) fn call(&mut self, column: usize, key: Option<&'static str>) {
        for (at, other) in self.columns.iter_mut().enumerate() {
            if at == column {
                *other = key;
            } else if *other == key {
                *other = None;
            }
        }
    }

    /// Returns what a column may mean, in the order of the table.
    pub(crate) fn meanings() -> impl Iterator<Item = &'static str> {
        fields().map(|field| field.key)
    }
}

fn fields() -> impl Iterator<Item = &'static Field> {
    let own = |field: &&Field| !matches!(field.kind, Kind::Table(_) | Kind::Tables(_));
    Element::SPEC.fields.iter().filter(own)
}

fn called(cell: &str) -> Option<&'static str> {
    let cell = cell.to_lowercase();
    let of_keys = fields().find(|field| field.key == cell).map(|field| field.key);
    let others = || CALLED.iter().find(|(_, names)| names.contains(&cell.as_str()));
    of_keys.or_else(|| others().map(|(key, _)| *key))
}

impl Draft {
    /// Takes the rows in as elements of an event; returns how many.
    ///
    /// # Errors
    ///
    /// Says in which row and column something cannot be taken; then none is.
    pub(crate) fn paste(&mut self, pasted: &Pasted, event: &str) -> Result<usize, String> {
        if !pasted.columns.contains(&Some("name")) {
            return Err("say which column holds the names".to_owned());
        }
        let classes: Vec<[String; 2]> = (0..self.count("class"))
            .map(|at| ["id", "name"].map(|key| self.written(&RowAt::row("class", at), key)))
            .collect();
        let mut ids: BTreeSet<String> = (0..self.count("element"))
            .map(|at| self.written(&RowAt::row("element", at), "id"))
            .collect();
        let mut all = Vec::new();
        for (number, row) in pasted.rows.iter().enumerate() {
            let cell = |key: &str| {
                let at = pasted.columns.iter().position(|column| *column == Some(key))?;
                row.get(at).map(String::as_str).filter(|cell| !cell.is_empty())
            };
            let Some(name) = cell("name") else { continue };
            let id = fresh(cell("id").unwrap_or(name), &mut ids);
            let mut cells: Vec<(&'static str, Value)> =
                vec![("id", id.into()), ("name", name.into()), ("event", event.into())];
            for field in fields().filter(|field| !matches!(field.key, "id" | "name")) {
                let Some(written) = cell(field.key) else { continue };
                let known = classes.iter().find(|it| it.iter().any(|it| is_same(it, written)));
                let written = match (field.key, known) {
                    ("class", Some([id, _])) => id,
                    _ => written,
                };
                let value = value(field.kind, written).map_err(|why| {
                    format!("row {}, \"{}\", column {}: {why}", number + 1, name, field.key)
                })?;
                cells.retain(|(key, _)| *key != field.key);
                cells.push((field.key, value));
            }
            all.push(cells);
        }
        self.fill("element", &all);
        Ok(all.len())
    }
}

fn is_same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

/// Returns a short name that no element has.
fn fresh(name: &str, ids: &mut BTreeSet<String>) -> String {
    let plain: String = name
        .to_lowercase()
        .chars()
        .map(|letter| if letter.is_alphanumeric() { letter } else { '-' })
        .collect();
    let parts: Vec<&str> = plain.split('-').filter(|part| !part.is_empty()).collect();
    let base = if parts.is_empty() { "element".to_owned() } else { parts.join("-") };
    let numbered = (2..).map(|number| format!("{base}-{number}"));
    let free = std::iter::once(base.clone()).chain(numbered).find(|id| !ids.contains(id));
    let id = free.unwrap_or(base);
    ids.insert(id.clone());
    id
}
