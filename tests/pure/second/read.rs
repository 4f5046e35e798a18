//! A book as the second evaluator reads it: its TOML rows, as they hold on one event in one division.

use std::collections::BTreeSet;

use toml::{Table, Value};

/// A book on one event in one division.
pub(super) struct Under<'b> {
    book: &'b Table,
    pub event: String,
    pub division: String,
}

/// One row of the book.
#[derive(Clone, Copy)]
pub(super) struct Row<'b> {
    table: &'b Table,
    under: &'b Under<'b>,
}

impl<'b> Under<'b> {
    pub(super) fn new(book: &'b Table, event: &str, division: &str) -> Self {
        Self { book, event: event.to_owned(), division: division.to_owned() }
    }

    fn all(&'b self, kind: &str) -> Vec<Row<'b>> {
        let rows = self.book.get(kind).and_then(Value::as_array);
        let tables = rows.into_iter().flatten().filter_map(Value::as_table);
        tables.map(|table| Row { table, under: self }).collect()
    }

    /// A rule holds on all events and in all divisions unless it says `events` or `divisions`.
    pub(super) fn rows(&'b self, kind: &str) -> Vec<Row<'b>> {
        let holds = |row: &Row<'_>| {
            let covers = |key: &str, own: &String| {
                let names = row.names(key);
                names.is_empty() || names.contains(own)
            };
            covers("events", &self.event) && covers("divisions", &self.division)
        };
        self.all(kind).into_iter().filter(holds).collect()
    }

    /// The ids of all rows that may take something or add it.
    pub(super) fn ids(&'b self) -> Vec<String> {
        let none = ["book", "division", "event", "class", "element", "requirement"];
        let kinds = self.book.keys().filter(|kind| !none.contains(&kind.as_str()));
        kinds.flat_map(|kind| self.all(kind)).map(|row| row.text("id")).collect()
    }

    pub(super) fn row(&'b self, kind: &str) -> Option<Row<'b>> {
        self.rows(kind).into_iter().next()
    }

    pub(super) fn element(&'b self, id: &str) -> Option<Row<'b>> {
        self.all("element").into_iter().find(|row| row.text("id") == id)
    }

    /// Where a class stands, the lowest first.
    pub(super) fn class_place(&'b self, class: &str) -> Option<usize> {
        self.all("class").iter().position(|row| row.text("id") == class)
    }

    /// What an element is worth: its own value, or that of its class.
    pub(super) fn worth(&'b self, id: &str) -> i64 {
        let Some(element) = self.element(id) else { return 0 };
        let class = element.text("class");
        let of_class = || self.all("class").into_iter().find(|row| row.text("id") == class);
        let of_class = || of_class().and_then(|row| row.points("value"));
        element.points("value").or_else(of_class).unwrap_or(0)
    }

    /// Elements of one family are the same element.
    pub(super) fn family(&'b self, id: &str) -> String {
        let family = self.element(id).map(|row| row.text("family")).unwrap_or_default();
        if family.is_empty() { id.to_owned() } else { family }
    }

    pub(super) fn tags(&'b self, id: &str) -> BTreeSet<String> {
        self.element(id).map(|row| row.names("tags").into_iter().collect()).unwrap_or_default()
    }

    pub(super) fn has_tag(&'b self, id: &str, tags: &[String]) -> bool {
        self.tags(id).iter().any(|tag| tags.contains(tag))
    }

    pub(super) fn is_allowed(&'b self, id: &str) -> bool {
        let Some(element) = self.element(id) else { return false };
        let only = element.names("divisions");
        let own = self.division_row(&self.division);
        let highest = own.and_then(|row| self.class_place(&row.text("highest_class")));
        let class = self.class_place(&element.text("class"));
        let is_above = highest.is_some_and(|highest| class.is_some_and(|class| class > highest));
        let is_selected = element.names("selected").contains(&self.division);
        (only.is_empty() || only.contains(&self.division)) && (!is_above || is_selected)
    }

    fn division_row(&'b self, id: &str) -> Option<Row<'b>> {
        self.all("division").into_iter().find(|row| row.text("id") == id)
    }

    /// A number that has a name: the division's own, or that of the division it is like.
    fn named(&'b self, name: &str) -> Option<f64> {
        let mut division = self.division_row(&self.division);
        while let Some(row) = division {
            let numbers = row.table.get("numbers").and_then(Value::as_table);
            if let Some(number) = numbers.and_then(|numbers| numbers.get(name)).and_then(plain) {
                return Some(number);
            }
            division = self.division_row(&row.text("like"));
        }
        None
    }
}

fn plain(value: &Value) -> Option<f64> {
    value.as_float().or_else(|| value.as_integer().map(|number| number as f64))
}

impl Row<'_> {
    pub(super) fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    pub(super) fn text(&self, key: &str) -> String {
        self.table.get(key).and_then(Value::as_str).unwrap_or_default().to_owned()
    }

    pub(super) fn flag(&self, key: &str, otherwise: bool) -> bool {
        self.table.get(key).and_then(Value::as_bool).unwrap_or(otherwise)
    }

    /// Names: one, or a list.
    pub(super) fn names(&self, key: &str) -> Vec<String> {
        let text = |value: &Value| value.as_str().map(ToOwned::to_owned);
        match self.table.get(key) {
            Some(Value::Array(all)) => all.iter().filter_map(text).collect(),
            Some(one) => text(one).into_iter().collect(),
            None => Vec::new(),
        }
    }

    /// A number, its name, or a table by division.
    pub(super) fn number(&self, key: &str) -> Option<f64> {
        match self.table.get(key)? {
            Value::String(name) => self.under.named(name),
            Value::Table(table) => table.get(&self.under.division).and_then(plain),
            value => plain(value),
        }
    }

    /// Points in thousandths.
    pub(super) fn points(&self, key: &str) -> Option<i64> {
        self.number(key).map(|number| (number * 1000.0).round() as i64)
    }

    pub(super) fn count(&self, key: &str) -> Option<usize> {
        self.number(key).map(|number| number as usize)
    }

    /// The tables in a list of this row.
    pub(super) fn inner(&self, key: &str) -> Vec<Self> {
        let tables = match self.table.get(key) {
            Some(Value::Array(all)) => all.iter().filter_map(Value::as_table).collect(),
            Some(Value::Table(one)) => vec![one],
            _ => Vec::new(),
        };
        tables.into_iter().map(|table| Self { table, under: self.under }).collect()
    }
}
