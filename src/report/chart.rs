//! Elements by division: where an element begins and stops being allowed.

use crate::rulebook::{Book, Division, Element};

use super::{
    cautions::CHECK_THE_BOOK,
    document::{Cell, Column, Document, Part, Piece, Style, Table},
};

/// Returns the elements of an event, one column for each division, as a page; nothing where the
/// book has no such event.
///
/// A cell is empty where the division may not use the element; a vault shows its start value.
pub fn chart(book: &Book, event: &str) -> Option<Document> {
    let name = &book.event(event)?.name;
    let divisions: Vec<&Division> = book.divisions_of(event).collect();
    let own = [("", "short"), ("Element", "name"), ("Class", ""), ("Page", "page")];
    let own = own.map(|(head, holds)| Column::new(head, holds));
    let may = divisions.iter().map(|division| Column::new(&division.name, ""));
    let table = Table {
        columns: own.into_iter().chain(may).collect(),
        rows: book.elements_of(event).map(|element| line(book, &divisions, element)).collect(),
    };
    Some(Document {
        title: format!("{name}: elements by division"),
        head: vec![format!("{}, edition {}", book.title, book.edition)],
        parts: vec![Part::new("", [Piece::Table(table)])],
        caution: CHECK_THE_BOOK.to_owned(),
        style: Style::Page,
    })
}

fn line(book: &Book, divisions: &[&Division], element: &Element) -> Vec<Cell> {
    let mut classes: Vec<&str> = Vec::new();
    for class in element.classes() {
        let name = book.class(class).map_or(class, |class| class.name.as_str());
        if !classes.contains(&name) {
            classes.push(name);
        }
    }
    let classes = classes.join(", ");
    let own = [&element.shorthand, &element.name, classes.as_str(), &element.page];
    let may = divisions.iter().map(|division| match &element.vault {
        _ if !book.allowed(element, &division.id) => String::new(),
        Some(vault) => vault.value_in(&division.id).short(),
        None if classes.contains(", ") => {
            let class = book.class(element.class_in(&division.id));
            class.map_or_else(|| "yes".to_owned(), |class| class.name.clone())
        }
        None => "yes".to_owned(),
    });
    own.into_iter().map(Cell::from).chain(may.map(Cell::from)).collect()
}
