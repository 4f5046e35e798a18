//! What is wrong with the text, at the row and key where it stands.

use std::collections::BTreeMap;

use super::place::RowAt;
use crate::rulebook::{
    Book, Diagnostic,
    read::book::{Find, read_like, tables_of},
    rows::{Findings, Row, Space, Value},
};

/// One finding at its place in the form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Told {
    /// The row; nothing where it is about the whole text.
    pub place: Option<RowAt>,
    /// The key; nothing where it is about the whole row.
    pub key: Option<&'static str>,
    /// Whether the book cannot be used because of it.
    pub is_error: bool,
    /// What is wrong.
    pub message: String,
    /// What to do about it.
    pub remedy: String,
}

/// What a text comes to.
pub(crate) struct Reading {
    /// The book, where it can be used.
    pub book: Option<Book>,
    /// Every finding at its place.
    pub told: Vec<Told>,
    /// The names that there are, by what they name.
    pub known: BTreeMap<Space, Vec<String>>,
}

/// Reads the text as a book; `find` returns the text of a book that it is like.
pub(crate) fn reading(text: &str, name: &str, find: Find<'_>) -> Reading {
    let read = read_like(text, name, find);
    let found = match &read {
        Ok((_, warnings)) => warnings,
        Err(all) => all,
    };
    let (walked, _) = tables_of(text, find, &mut Findings::new(text));
    let head = walked.tables.get("book").and_then(|rows| rows.first());
    let like = head.filter(|head| head.has("like")).map(|head| head.span_of("like"));
    let mut rows: Vec<(&'static str, &Row)> = Vec::new();
    for (table, all) in &walked.tables {
        let own = all.iter().filter(|row| like.as_ref() != Some(&row.span));
        rows.extend(own.map(|row| (*table, row)));
    }
    rows.sort_by_key(|(_, row)| row.span.start);
    let told = found.iter().map(|one| at(one, &rows)).collect();
    let mut known: BTreeMap<Space, Vec<String>> = BTreeMap::new();
    for (space, name) in &walked.defined {
        let names = known.entry(*space).or_default();
        if !names.contains(name) {
            names.push(name.clone());
        }
    }
    Reading { book: read.ok().map(|(book, _)| book), told, known }
}

fn at(found: &Diagnostic, rows: &[(&'static str, &Row)]) -> Told {
    let start = found.span.start;
    let holding = rows.iter().rposition(|(_, row)| row.span.start <= start);
    let holding = holding.filter(|_| !found.span.is_empty());
    let (place, key) = match holding {
        None => (None, None),
        Some(holding) => {
            let (table, row) = rows[holding];
            let before = rows[..holding].iter().filter(|(other, _)| *other == table).count();
            inside(RowAt::row(table, before), row, start)
        }
    };
    let (message, remedy) = (found.message.clone(), found.remedy.clone());
    Told { place, key, is_error: found.is_error(), message, remedy }
}

/// Returns the innermost row and its key that hold the place in the text.
fn inside(place: RowAt, row: &Row, start: usize) -> (Option<RowAt>, Option<&'static str>) {
    let Some((key, cell)) = row.cells().find(|(_, cell)| cell.span.contains(&start)) else {
        return (Some(place), None);
    };
    match &cell.value {
        Value::Row(inner) => inside(place.inside(key, 0), inner, start),
        Value::Rows(all) => match all.iter().position(|row| row.span.contains(&start)) {
            Some(at) => inside(place.inside(key, at), &all[at], start),
            None => (Some(place), Some(key)),
        },
        _ => (Some(place), Some(key)),
    }
}
