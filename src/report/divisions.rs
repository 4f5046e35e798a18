//! One routine under every division, and what each thing cost, as pages.

use crate::sheet::{CAUTION, Cause, ScoreSheet, start_words};

use super::{
    document::{Document, Part, Piece, Style},
    sheet::losses,
};

/// Returns what the routine comes to in each division: every credit lost, everything missing,
/// everything taken off.
pub fn divisions(sheets: &[ScoreSheet]) -> Document {
    let parts = sheets.iter().map(|sheet| {
        let (division, start) = (&sheet.standing.division, start_words(sheet.start_value));
        let score = sheet.score_words();
        let title = format!("{division}: start value {start}, score {score}");
        Part::new(&title, [Piece::List(losses(sheet))])
    });
    page("In every division", parts.collect())
}

/// Returns what each thing cost, the dearest first, with its parts and its frames.
pub fn by_cause(causes: &[Cause]) -> Document {
    let parts = causes.iter().map(|cause| {
        let frames: Vec<String> = cause.frames.iter().map(|at| at.frame.to_string()).collect();
        let frames = frames.join(" to ");
        let at = if frames.is_empty() { frames } else { format!(", frame {frames}") };
        let title = format!("{} cost {}{at}", cause.label, cause.amount);
        let several = cause.parts.iter().filter(|_| cause.parts.len() > 1);
        let rows = several.map(|(part, amount)| Piece::row(&amount.to_string(), part.clone()));
        Part::whole(&title, rows)
    });
    page("What each thing cost", parts.collect())
}

fn page(title: &str, parts: Vec<Part>) -> Document {
    let (title, caution) = (title.to_owned(), CAUTION.to_owned());
    Document { title, head: Vec::new(), parts, caution, style: Style::Page }
}
