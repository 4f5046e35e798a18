//! The text, what can be changed in it, and the steps back.

use toml_edit::{
    Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, TomlError, Value,
};

use super::{
    place::RowAt,
    written::{typed, value},
};
use crate::rulebook::rows::Field;

/// A book's text that is being changed.
#[derive(Clone, Debug)]
pub(crate) struct Draft {
    text: String,
    /// The text as it was read: a form asks for hundreds of values each time it is drawn.
    document: DocumentMut,
    past: Vec<String>,
    ahead: Vec<String>,
}

impl Draft {
    /// Begins with a text; refuses what is no TOML, which a form cannot show.
    pub(crate) fn new(text: &str) -> Result<Self, String> {
        let document = text.parse().map_err(|error: TomlError| error.to_string())?;
        Ok(Self { text: text.to_owned(), document, past: Vec::new(), ahead: Vec::new() })
    }

    pub(crate) fn text(&self) -> &str {
        &self.text
    }

    /// Returns how many rows the table has.
    pub(crate) fn count(&self, table: &str) -> usize {
        self.document.get(table).map_or(0, length)
    }

    /// Returns how many rows lie inside a row under a key.
    pub(crate) fn count_inside(&self, place: &RowAt, key: &str) -> usize {
        at(&self.document, place).and_then(|row| row.get(key)).map_or(0, length)
    }

    /// Returns the value of a key as a person types it; empty where it is not there.
    pub(crate) fn written(&self, place: &RowAt, key: &str) -> String {
        at(&self.document, place).and_then(|row| row.get(key)).map(typed).unwrap_or_default()
    }

    /// Writes a key; nothing typed takes it out.
    ///
    /// # Errors
    ///
    /// Says in words what is wrong with what was typed.
    pub(crate) fn set(&mut self, place: &RowAt, field: &Field, typed: &str) -> Result<(), String> {
        if typed.trim().is_empty() {
            return self.change(|document| {
                if let Some(row) = row(document, place) {
                    row.remove(field.key);
                }
            });
        }
        let new = value(field.kind, typed)?;
        self.change(|document| {
            let Some(row) = row(document, place) else { return };
            match row.get_mut(field.key).and_then(Item::as_value_mut) {
                // A remark behind it stays.
                Some(old) => {
                    let decor = old.decor().clone();
                    *old = new;
                    *old.decor_mut() = decor;
                }
                None => {
                    row.insert(field.key, Item::Value(new));
                }
            }
        })
    }

    /// Adds a row behind the others of its table; returns its place.
    pub(crate) fn add(&mut self, table: &'static str) -> RowAt {
        let at = self.count(table);
        let _ = self.change(|document| {
            let root = document.as_table_mut();
            let item =
                root.entry(table).or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
            push(item);
        });
        RowAt::row(table, at)
    }

    /// Adds a row inside a row.
    pub(crate) fn add_inside(&mut self, place: &RowAt, key: &'static str, many: bool) -> RowAt {
        let at = self.count_inside(place, key);
        let _ = self.change(|document| {
            let Some(row) = row(document, place) else { return };
            if let Some(item) = row.get_mut(key) {
                push(item);
            } else {
                let one = Value::InlineTable(InlineTable::new());
                let value = if many { Value::Array(Array::from_iter([one])) } else { one };
                row.insert(key, Item::Value(value));
            }
        });
        place.inside(key, at)
    }

    /// Takes a row out.
    pub(crate) fn remove(&mut self, place: &RowAt) {
        let _ = self.change(|document| match place.inner.split_last() {
            None => {
                let root = document.as_table_mut();
                let is_gone = root.get_mut(place.table).is_some_and(|item| take(item, place.at));
                if is_gone {
                    root.remove(place.table);
                }
            }
            Some((last, before)) => {
                let outer = RowAt { inner: before.to_vec(), ..place.clone() };
                let Some(row) = row(document, &outer) else { return };
                if row.get_mut(last.key).is_some_and(|item| take(item, last.at)) {
                    row.remove(last.key);
                }
            }
        });
    }

    /// Moves a row one place up among those of its table: their order may count.
    pub(crate) fn raise(&mut self, table: &str, at: usize) {
        let _ = self.change(|document| {
            let Some(all) = document.get_mut(table).and_then(Item::as_array_of_tables_mut) else {
                return;
            };
            let [Some(above), Some(own)] =
                [at.checked_sub(1).and_then(|it| all.get(it)), all.get(at)]
            else {
                return;
            };
            let (mut above, mut own) = (above.clone(), own.clone());
            let places = [above.position(), own.position()];
            above.set_position(places[1]);
            own.set_position(places[0]);
            if let Some(row) = all.get_mut(at - 1) {
                *row = own;
            }
            if let Some(row) = all.get_mut(at) {
                *row = above;
            }
        });
    }

    /// Writes several rows in one step.
    pub(super) fn fill(&mut self, table: &'static str, rows: &[Vec<(&'static str, Value)>]) {
        let _ = self.change(|document| {
            let root = document.as_table_mut();
            let item =
                root.entry(table).or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
            for cells in rows {
                push(item);
                let last = length(item).saturating_sub(1);
                let Some(row) = nth(item, last) else { continue };
                for (key, value) in cells {
                    row.insert(key, Item::Value(value.clone()));
                }
            }
        });
    }

    /// Takes the last step back; returns whether there was one.
    pub(crate) fn undo(&mut self) -> bool {
        let Some(text) = self.past.pop() else { return false };
        let text = self.becomes(text);
        self.ahead.push(text);
        true
    }

    /// Does the step again that was taken back last.
    pub(crate) fn redo(&mut self) -> bool {
        let Some(text) = self.ahead.pop() else { return false };
        let text = self.becomes(text);
        self.past.push(text);
        true
    }

    /// Goes over to a text that was read before; returns the one that was there.
    fn becomes(&mut self, text: String) -> String {
        self.document = text.parse().unwrap_or_default();
        std::mem::replace(&mut self.text, text)
    }

    fn change(&mut self, change: impl FnOnce(&mut DocumentMut)) -> Result<(), String> {
        let mut document = self.document.clone();
        change(&mut document);
        let text = document.to_string();
        // Read anew, so that what is shown is what stands in the file.
        self.document = text.parse().map_err(|error: TomlError| error.to_string())?;
        if text != self.text {
            self.past.push(std::mem::replace(&mut self.text, text));
            self.ahead.clear();
        }
        Ok(())
    }
}

/// Returns how many rows there are.
fn length(item: &Item) -> usize {
    match item {
        Item::ArrayOfTables(all) => all.len(),
        Item::Value(Value::Array(all)) => all.len(),
        Item::Table(_) | Item::Value(Value::InlineTable(_)) => 1,
        _ => 0,
    }
}

fn nth(item: &mut Item, at: usize) -> Option<&mut dyn TableLike> {
    match item {
        Item::Table(one) => Some(one),
        Item::Value(Value::InlineTable(one)) => Some(one),
        Item::ArrayOfTables(all) => all.get_mut(at).map(|row| row as &mut dyn TableLike),
        Item::Value(Value::Array(all)) => {
            all.get_mut(at)?.as_inline_table_mut().map(|row| row as &mut dyn TableLike)
        }
        _ => None,
    }
}

/// Returns a row to be looked at.
fn at<'d>(document: &'d DocumentMut, place: &RowAt) -> Option<&'d dyn TableLike> {
    let of = |item: &'d Item, at: usize| -> Option<&'d dyn TableLike> {
        match item {
            Item::Table(one) => Some(one),
            Item::Value(Value::InlineTable(one)) => Some(one),
            Item::ArrayOfTables(all) => all.get(at).map(|row| row as &dyn TableLike),
            Item::Value(Value::Array(all)) => {
                all.get(at)?.as_inline_table().map(|row| row as &dyn TableLike)
            }
            _ => None,
        }
    };
    let mut row = of(document.get(place.table)?, place.at)?;
    for step in &place.inner {
        row = of(row.get(step.key)?, step.at)?;
    }
    Some(row)
}

fn row<'d>(document: &'d mut DocumentMut, place: &RowAt) -> Option<&'d mut dyn TableLike> {
    let mut row = nth(document.get_mut(place.table)?, place.at)?;
    for step in &place.inner {
        row = nth(row.get_mut(step.key)?, step.at)?;
    }
    Some(row)
}

fn push(item: &mut Item) {
    match item {
        Item::ArrayOfTables(all) => {
            let mut row = Table::new();
            row.decor_mut().set_prefix("\n");
            all.push(row);
        }
        Item::Value(Value::Array(all)) => all.push(InlineTable::new()),
        _ => {}
    }
}

/// Takes a row out; returns whether none is left, so that the key goes too.
fn take(item: &mut Item, at: usize) -> bool {
    match item {
        Item::ArrayOfTables(all) if at < all.len() => {
            all.remove(at);
            all.is_empty()
        }
        Item::Value(Value::Array(all)) if at < all.len() => {
            all.remove(at);
            all.is_empty()
        }
        Item::Table(_) | Item::Value(Value::InlineTable(_)) => true,
        _ => false,
    }
}
