//! Books that are like another one, except for what they say themselves.

use std::fmt::Write as _;

use toml::{Table, Value};

use super::chance::Chance;

/// Kinds of tables that no other table names.
const FREE: [&str; 4] = ["bonus", "connection", "too_many", "time"];
/// Kinds whose amount may be another one.
const CHANGED: [&str; 6] = ["bonus", "connection", "too_many", "time", "fault", "when"];

/// Returns a book that is like the one of this text, which lies beside it under the name.
pub(super) fn draw(chance: &mut Chance, base: &str, name: &str) -> String {
    let mut rows = String::new();
    let mut without: Vec<&str> = Vec::new();
    for row in base.split("\n\n") {
        let Some((kind, keys)) = row.trim_start().split_once("]]\n") else { continue };
        let kind = kind.trim_start_matches("[[");
        let id = keys.strip_prefix("id = \"").and_then(|rest| rest.split('"').next());
        if let Some(id) = id.filter(|_| FREE.contains(&kind) && chance.is(15)) {
            without.push(id);
        } else if CHANGED.contains(&kind) && keys.contains("\namount = 0.") && chance.is(25) {
            let other = chance.pick(&["0.2", "0.7"]);
            let change = |line: &str| {
                let is_amount = line.starts_with("amount = 0.");
                if is_amount { format!("amount = {other}") } else { line.to_owned() }
            };
            let keys: Vec<String> = keys.lines().map(change).collect();
            let _ = write!(rows, "\n[[{kind}]]\n{}\n", keys.join("\n"));
        }
    }
    if base.contains("[[merge]]") && chance.is(50) {
        rows.push_str("\n[[merge]]\nrule = \"small\"\nof = 0.1\ncount = 2\ninto = 0.4\n");
    }
    let head = "[book]\nid = \"other\"\ntitle = \"Other\"\nedition = \"1\"";
    format!("{head}\nlike = \"{name}\"\nwithout = {without:?}\n{rows}")
}

/// A row takes the place of every row of its id; of tables without ids one row takes the place of the
/// whole list; `without` leaves ids out; the head is never taken over.
pub(super) fn merged(base: &Table, own: &Table) -> Table {
    let id = |row: &Value| row.get("id").and_then(Value::as_str).map(ToOwned::to_owned);
    let rows = |table: &Table, kind: &str| -> Vec<Value> {
        table.get(kind).and_then(Value::as_array).cloned().unwrap_or_default()
    };
    let without: Vec<Value> =
        own["book"].get("without").and_then(Value::as_array).cloned().unwrap_or_default();
    let mut merged = Table::new();
    for kind in base.keys().filter(|kind| *kind != "book") {
        let mut mine = rows(own, kind);
        let mut all = Vec::new();
        for row in rows(base, kind) {
            let named = id(&row);
            if named.as_ref().is_some_and(|id| without.iter().any(|out| out.as_str() == Some(id))) {
                continue;
            }
            match mine.iter().position(|other| id(other) == named) {
                Some(at) => all.push(mine.remove(at)),
                None if named.is_none() && own.contains_key(kind) => {}
                None => all.push(row),
            }
        }
        all.extend(mine);
        merged.insert(kind.clone(), Value::Array(all));
    }
    merged.insert("book".to_owned(), own["book"].clone());
    merged
}
