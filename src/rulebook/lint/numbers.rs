//! Warnings about numbers of divisions that no rule calls.

use crate::rulebook::{
    Book,
    rows::{Findings, Row, Value, VariesFrom},
};

use super::spots::Spots;

/// Adds warnings about numbers that no rule calls.
pub(crate) fn lint(_: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let walked = spots.walked;
    let mut called = Vec::new();
    walked.tables.values().flatten().for_each(|row| names_called(row, &mut called));
    let divisions = walked.tables.get("division").into_iter().flatten();
    for row in divisions {
        let Some(Value::Numbers(numbers)) = row.cell("numbers").map(|cell| &cell.value) else {
            continue;
        };
        for (name, raw) in numbers.iter().filter(|(name, _)| !called.contains(name)) {
            let message = format!("no rule calls the number \"{name}\"");
            findings.warning(
                &raw.span,
                message,
                "write its name, in quotes, in the place of a number",
            );
        }
    }
}

fn names_called(row: &Row, called: &mut Vec<String>) {
    for (_, cell) in row.cells() {
        match &cell.value {
            Value::Varies(varies) => {
                if let VariesFrom::Name(name) = &varies.from {
                    called.push(name.clone());
                }
            }
            Value::Row(inner) => names_called(inner, called),
            Value::Rows(rows) => rows.iter().for_each(|row| names_called(row, called)),
            _ => {}
        }
    }
}
