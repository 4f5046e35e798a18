//! Several sheets beside one another, for a terminal.

use crate::sheet::{Row, Together};

use super::text_page::{Page, signed};

/// Returns a panel or attempts as plain text for a terminal.
pub fn together_text(together: &Together) -> String {
    let mut page = Page::default();
    page.standing(&together.standing);
    page.gap();
    page.wrapped("", &together.how);
    page.line(&format!(
        "  {:<20} {:>12} {:>12} {:>12}",
        together.title, "start value", "off", "score"
    ));
    for row in &together.rows {
        page.line(&line(row));
    }
    if let Some(reference) = together.reference {
        page.line(&format!("  {:<20} {:>38}", "reference", reference.to_string()));
    }
    page.gap();
    page.wrapped("  ", &together.said);
    if !together.differ.is_empty() {
        page.gap();
        page.line("Where the judges differ");
    }
    for part in &together.differ {
        let said: Vec<String> = together
            .rows
            .iter()
            .zip(&part.said)
            .map(|(row, said)| format!("{} {said}", row.name))
            .collect();
        page.wrapped("  ", &format!("{}: {}", part.part, said.join(", ")));
    }
    page.gap();
    page.wrapped("", together.caution);
    page.0
}

fn line(row: &Row) -> String {
    let score = row.score.map_or_else(|| "void".to_owned(), |score| score.to_string());
    let range = row.range;
    let void = if range.may_be_void && row.score.is_some() { " or void" } else { "" };
    let close = if range.low == range.high && void.is_empty() {
        String::new()
    } else {
        format!("  {} to {}{void}", range.low, range.high)
    };
    let (start, off) = (row.start_value.to_string(), signed(row.taken));
    format!("  {:<20} {start:>12} {off:>12} {score:>12}{close}", row.name)
}
