use super::agreement::{NO_RANKING, Piece, Rank, sections};
use crate::practice::agreement::Agreement;

/// Returns the report on agreement for a terminal, where there are no charts.
pub fn agreement_text(report: &Agreement) -> String {
    let mut lines = vec![format!("Agreement with {}", report.reference)];
    lines.extend(report.books.iter().cloned());
    for section in sections(report) {
        let said = section.pieces.iter().filter_map(words).collect::<Vec<String>>();
        match section.rank {
            Rank::Whole => lines.extend([String::new(), section.title]),
            Rank::Part if said.is_empty() => {}
            Rank::Part => lines.push(format!("  {}", section.title)),
        }
        let indent = if section.rank == Rank::Whole { "  " } else { "    " };
        lines.extend(said.iter().map(|said| format!("{indent}{said}")));
    }
    lines.extend([String::new(), format!("{} {NO_RANKING}", report.caution), String::new()]);
    lines.join("\n")
}

fn words(piece: &Piece) -> Option<String> {
    match piece {
        Piece::Said(said) => Some(said.clone()),
        Piece::Row { name, words } => Some(format!("{name:<28} {words}")),
        Piece::Chart(_) => None,
    }
}
