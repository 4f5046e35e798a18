//! A panel, or several attempts, as a page.

use crate::sheet::{Combined, Together, score_words, start_words};

use super::{
    document::{Cell, Column, Document, Part, Piece, Style, Table},
    sheet::standing,
};

/// Returns several sheets beside one another as a page.
pub fn together(together: &Together) -> Document {
    let said = Piece::Said(together.said.clone());
    let mut parts = vec![Part::new(
        "",
        [Piece::Said(together.how.clone()), Piece::Table(scores(together)), said],
    )];
    if !together.parts.is_empty() {
        parts.push(Part::new("Part by part", [Piece::Table(by_part(together))]));
    }
    if !together.differ.is_empty() {
        parts.push(Part::new("Where the judges differ", [Piece::Table(differ(together))]));
    }
    Document {
        title: format!("{} {}", together.title, together.standing.athlete).trim_end().to_owned(),
        head: standing(&together.standing),
        parts,
        caution: together.caution.to_owned(),
        style: Style::Page,
    }
}

fn scores(together: &Together) -> Table {
    let heads = [("", "name"), ("Start value", ""), ("Off", ""), ("Score", ""), ("Range", "")];
    let mut rows: Vec<Vec<Cell>> = together
        .rows
        .iter()
        .map(|row| {
            let (start, off) = (start_words(row.start_value), row.taken.taken_off());
            let cells =
                [row.name.clone(), start, off, score_words(row.score), row.range.words(row.score)];
            cells.map(Cell::from).into()
        })
        .collect();
    if let Some(reference) = together.reference {
        let [name, score] = ["reference".to_owned(), reference.to_string()];
        rows.push(
            [name, String::new(), String::new(), score, String::new()].map(Cell::from).into(),
        );
    }
    Table { columns: heads.map(|(head, holds)| Column::new(head, holds)).into(), rows }
}

fn by_part(together: &Together) -> Table {
    let judges = together.rows.iter().map(|row| Column::new(&row.name, ""));
    let columns = std::iter::once(Column::new("", "name"))
        .chain(judges)
        .chain([Column::new("Counts", ""), Column::new("", "how")]);
    let rows = together.parts.iter().map(|part| {
        let values = part.values.iter().map(|value| score_words(*value));
        let counts = match &part.outcome {
            Combined::Score { score } => score.to_string(),
            _ => String::new(),
        };
        let cells = std::iter::once(part.label.clone()).chain(values);
        cells.chain([counts, part.how.clone()]).map(Cell::from).collect()
    });
    Table { columns: columns.collect(), rows: rows.collect() }
}

fn differ(together: &Together) -> Table {
    let judges = together.rows.iter().map(|row| Column::new(&row.name, ""));
    let columns = std::iter::once(Column::new("", "name")).chain(judges).collect();
    let rows = together.differ.iter().map(|part| {
        let said = part.said.iter().map(|said| Cell::from(said.as_str()));
        std::iter::once(Cell::from(part.part.as_str())).chain(said).collect()
    });
    Table { columns, rows: rows.collect() }
}
