//! From checked tables to the model: elements and vaults.

use crate::rulebook::{Element, Vault, rows::row::Row};

use super::{
    build::Tables,
    rules::{word_of, words_of},
};

/// Returns the elements of the tables.
pub(crate) fn build(tables: &mut Tables<'_, '_, '_>) -> Vec<Element> {
    let mut elements: Vec<Element> = Vec::new();
    for row in tables.spread("element") {
        let element = element(&row);
        let same = |other: &&mut Element| other.id == element.id && other.event == element.event;
        // A vault whose value differs by division was read once for each of them.
        // Its rows follow one another.
        match elements.last_mut().filter(same) {
            Some(first) => join(first, element),
            None => elements.push(element),
        }
    }
    elements
}

fn join(first: &mut Element, other: Element) {
    first.divisions.extend(other.divisions);
    if let (Some(first), Some(other)) = (&mut first.vault, other.vault) {
        first.values.extend(other.values);
    }
}

fn element(row: &Row) -> Element {
    let id = row.text("id");
    let family = if row.has("family") { row.text("family") } else { id.clone() };
    let divisions = row.texts("divisions");
    Element {
        name: row.text("name"),
        event: row.text("event"),
        class: row.text("class"),
        shorthand: row.text("shorthand"),
        code: row.text("code"),
        tags: row.texts("tags"),
        page: row.text("where"),
        selected: row.texts("selected"),
        moments: words_of(row, "moments"),
        pair: row.text("pair"),
        becomes: row.text("becomes"),
        value: row.points("value"),
        vault: row.row("vault").map(|inner| vault(inner, &divisions)),
        id,
        family,
        divisions,
    }
}

fn vault(row: &Row, divisions: &[String]) -> Vault {
    let value = row.points("value").unwrap_or_default();
    Vault {
        value,
        values: divisions.iter().map(|division| (division.clone(), value)).collect(),
        before: row.range("before").unwrap_or_default(),
        after: row.range("after"),
        facing: word_of(row, "facing"),
    }
}
