//! A page as comma-separated values, for a table program.

use crate::sheet::frames_words;

use super::model::{Cell, Document, Part, Piece};

pub(super) fn csv(document: &Document) -> String {
    let mut out = ::csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    let caution = vec![String::new(), document.caution.clone()];
    for mut row in document.parts.iter().flat_map(rows).chain([caution]) {
        for cell in &mut row {
            keep_from_acting(cell);
        }
        // Writing into memory cannot fail.
        let _ = out.write_record(row);
    }
    out.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// A table program would carry out a cell that begins like a formula, which a remark may.
fn keep_from_acting(cell: &mut String) {
    let begins_formula = cell.starts_with(['=', '+', '-', '@']);
    if begins_formula && cell.parse::<f64>().is_err() {
        cell.insert(0, '\'');
    }
}

fn rows(part: &Part) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = Vec::new();
    for piece in &part.pieces {
        match piece {
            Piece::Said(said) => rows.push(vec![said.clone()]),
            Piece::Row { name, words } => rows.push(vec![name.clone(), words.clone()]),
            Piece::Totals(totals) => rows.extend(totals.iter().map(|total| total.to_vec())),
            Piece::Ruled(table) => {
                rows.push(table.head.map(str::to_owned).to_vec());
                rows.extend(table.lines.iter().map(|line| {
                    let (status, frames) =
                        (line.status.words().to_owned(), frames_words(&line.frames));
                    let name = match line.under.as_str() {
                        "" => line.name.clone(),
                        under => format!("{under}: {}", line.name),
                    };
                    vec![name, status, line.amount.clone(), frames, line.why.join(" ")]
                }));
            }
            Piece::Table(table) => {
                rows.push(table.columns.iter().map(|column| column.head.clone()).collect());
                rows.extend(table.rows.iter().map(|row| row.iter().map(Cell::words).collect()));
            }
            Piece::List(items) => rows.extend(items.iter().map(|item| vec![item.clone()])),
            Piece::Chart(_) | Piece::Still(_) | Piece::Blanks(_) => {}
        }
    }
    for row in &mut rows {
        row.insert(0, part.title.clone());
    }
    rows
}
