//! Elements by division: where an element begins and stops being allowed.

use crate::rulebook::{Book, Division, Element};

/// The elements of an event, one column for each division.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chart {
    /// Name of the event.
    pub event: String,
    /// Title and edition of the book.
    pub book: String,
    /// The heading and one row for each element, all of the same length.
    pub rows: Vec<Vec<String>>,
}

/// Returns the chart, or nothing where the book has no such event.
///
/// A cell is empty where the division may not use the element; a vault shows its start value.
pub fn chart(book: &Book, event: &str) -> Option<Chart> {
    let name = &book.event(event)?.name;
    let divisions: Vec<&Division> = book.divisions_of(event).collect();
    let mut rows = vec![head(&divisions)];
    rows.extend(book.elements_of(event).map(|element| line(book, &divisions, element)));
    let title = format!("{}, edition {}", book.title, book.edition);
    Some(Chart { event: name.clone(), book: title, rows })
}

impl Chart {
    /// Returns the chart as a table of text.
    pub fn text(&self) -> String {
        format!("{}: {}\n\n{}", self.event, self.book, aligned(&self.rows))
    }
}

fn head(divisions: &[&Division]) -> Vec<String> {
    let own = ["", "Element", "Class", "Page"].map(str::to_owned);
    own.into_iter().chain(divisions.iter().map(|division| division.name.clone())).collect()
}

fn line(book: &Book, divisions: &[&Division], element: &Element) -> Vec<String> {
    let class = book.class(&element.class).map_or("", |class| class.name.as_str());
    let own = [&element.shorthand, &element.name, class, &element.page];
    let may = divisions.iter().map(|division| match &element.vault {
        _ if !book.allowed(element, &division.id) => String::new(),
        Some(vault) => vault.value_in(&division.id).short(),
        None => "yes".to_owned(),
    });
    own.into_iter().map(str::to_owned).chain(may).collect()
}

/// Returns the rows with each column as wide as its widest cell.
fn aligned(rows: &[Vec<String>]) -> String {
    let columns = rows.first().map_or(0, Vec::len);
    let wide = |column: usize| rows.iter().map(|row| row[column].chars().count()).max();
    let widths: Vec<usize> = (0..columns).map(|column| wide(column).unwrap_or(0)).collect();
    let padded = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}"));
        cells.collect::<Vec<_>>().join("  ").trim_end().to_owned() + "\n"
    };
    rows.iter().map(padded).collect()
}
