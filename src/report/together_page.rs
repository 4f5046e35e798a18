//! A panel, or several attempts, as one HTML page for A4.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::sheet::{Row, Together};

/// Returns the page, which needs no other file.
pub fn together_page(together: &Together) -> String {
    let of = &together.standing;
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (together.title) " " (of.athlete) }
                style { (PreEscaped(include_str!("sheet.css"))) }
            }
            body {
                header {
                    h1 { (together.title) " " (of.athlete) }
                    p {
                        (of.event) ", " (of.division)
                        @if !of.judge.is_empty() { " · judge " (of.judge) }
                        @if !of.date.is_empty() { " · " (of.date) }
                    }
                    p { (of.title) ", edition " (of.edition) " (" (of.short_hash()) ")" }
                }
                p { (together.how) }
                (rows(together))
                p { strong { (together.said) } }
                (differ(together))
                p.caution { (together.caution) }
            }
        }
    };
    page.into_string()
}

fn rows(together: &Together) -> Markup {
    html! {
        table {
            tr { th.name { "" } th { "Start value" } th { "Off" } th { "Score" } th { "Range" } }
            @for row in &together.rows {
                tr {
                    td { (row.name) } td { (row.start_value) } td { (row.taken.taken_off()) }
                    td { (score(row)) } td { (range(row)) }
                }
            }
            @if let Some(reference) = together.reference {
                tr { td { "reference" } td {} td {} td { (reference) } td {} }
            }
        }
    }
}

fn differ(together: &Together) -> Markup {
    html! {
        @if !together.differ.is_empty() {
            h2 { "Where the judges differ" }
            table {
                tr { th.name { "" } @for row in &together.rows { th { (row.name) } } }
                @for part in &together.differ {
                    tr { td { (part.part) } @for said in &part.said { td { (said) } } }
                }
            }
        }
    }
}

fn score(row: &Row) -> String {
    row.score.map_or_else(|| "void".to_owned(), |score| score.to_string())
}

fn range(row: &Row) -> String {
    let range = row.range;
    let void = if range.may_be_void && row.score.is_some() { " or void" } else { "" };
    if range.low == range.high {
        format!("{}{void}", range.low)
    } else {
        format!("{} – {}{void}", range.low, range.high)
    }
}
