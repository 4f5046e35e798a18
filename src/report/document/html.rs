//! A page as one HTML file that prints on A4.

use base64::Engine as _;
use maud::{DOCTYPE, Markup, PreEscaped, html};

use crate::sheet::{Status, frame_words, frames_words};

use super::{
    chart_svg::svg,
    figure::figure,
    model::{Cell, Document, Part, Piece, Rank, RuledTable, Still, Style, Table},
};

pub(super) fn html(document: &Document) -> String {
    let style = match document.style {
        Style::Page => include_str!("page.css"),
        Style::Card => include_str!("card.css"),
    };
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (document.title) }
                style { (PreEscaped(style)) }
            }
            body {
                header {
                    h1 { (document.title) }
                    @for line in &document.head { p { (line) } }
                }
                main { @for one in &document.parts { (part(one)) } }
                p.caution { (document.caution) }
            }
        }
    };
    page.into_string()
}

fn part(part: &Part) -> Markup {
    html! {
        section {
            @if !part.title.is_empty() {
                @match part.rank {
                    Rank::Whole => { h2.whole { (part.title) } }
                    Rank::Part => { h2 { (part.title) } }
                }
            }
            // Rows that follow each other are one table.
            @for pieces in part.pieces.chunk_by(|a, b| is_row(a) && is_row(b)) {
                @if pieces.iter().all(is_row) {
                    table { @for one in pieces { (piece(one)) } }
                } @else {
                    @for one in pieces { (piece(one)) }
                }
            }
        }
    }
}

fn is_row(piece: &Piece) -> bool {
    matches!(piece, Piece::Row { .. })
}

fn piece(piece: &Piece) -> Markup {
    match piece {
        Piece::Said(said) => html! { p { (said) } },
        Piece::Row { name, words } => html! { tr { td.kind { (name) } td.said { (words) } } },
        Piece::Totals(totals) => html! {
            div.total { @for [name, figure] in totals {
                div { dl { dt { (name) } dd { (figure) } } }
            } }
        },
        Piece::Ruled(lines) => ruled(lines),
        Piece::Table(rows) => table(rows),
        Piece::List(items) => html! { ul { @for item in items { li { (item) } } } },
        Piece::Chart(drawing) => svg(drawing),
        Piece::Still(picture) => still(picture),
        Piece::Blanks(blanks) => html! {
            p.who { @for blank in blanks { (blank) " " span {} " " } }
        },
    }
}

fn ruled(table: &RuledTable) -> Markup {
    const HOLDS: [&str; 5] = ["name", "status", "amount", "frames", "why"];
    html! {
        table {
            tr { @for (holds, name) in HOLDS.iter().zip(table.head) { th class=(holds) { (name) } } }
            @for (head, line) in table.headed() {
                @if let Some(head) = head { tr { th.under colspan="5" { (head) } } }
                tr {
                    td.name { (line.name) }
                    td.status { (status(line.status)) }
                    td.amount { (line.amount) }
                    td.frames { (frames_words(&line.frames)) }
                    td.why { (line.why.join(" ")) }
                }
            }
        }
    }
}

fn table(table: &Table) -> Markup {
    html! {
        table {
            @if table.columns.iter().any(|column| !column.head.is_empty()) {
                tr { @for column in &table.columns { th class=(column.holds) { (column.head) } } }
            }
            @for row in &table.rows {
                tr { @for (column, one) in table.columns.iter().zip(row) {
                    td class=(column.holds) { (cell(one)) }
                } }
            }
        }
    }
}

fn cell(cell: &Cell) -> Markup {
    match cell {
        Cell::Text(words) => html! { (words) },
        Cell::Asked(words, angle) => html! {
            @if let Some(figure) = figure(angle) { (figure) }
            (words)
        },
        Cell::Choice(words) => html! { @for word in *words { span.tick { (word) } } },
    }
}

fn still(still: &Still) -> Markup {
    let png = base64::engine::general_purpose::STANDARD.encode(&still.png);
    html! {
        figure {
            img src={ "data:image/png;base64," (png) } alt=(still.caption);
            figcaption { (frame_words(&still.frame)) ": " (still.caption) }
        }
    }
}

/// Returns a status as a sign and a word, so that it is readable in black and white.
fn status(status: Status) -> String {
    format!("{} {}", status.sign(), status.words())
}
