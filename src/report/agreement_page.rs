use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::{
    agreement::{NO_RANKING, Piece, Rank, Section, sections},
    drawing_svg::svg,
};
use crate::practice::agreement::Agreement;

/// Returns the report on agreement as one HTML page that needs no other file and prints on A4.
pub fn agreement_page(report: &Agreement) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Agreement with " (report.reference) }
                style {
                    (PreEscaped(include_str!("sheet.css")))
                    (PreEscaped(include_str!("agreement.css")))
                }
            }
            body {
                header {
                    h1 { "Agreement with " (report.reference) }
                    @for book in &report.books { p { (book) } }
                }
                @for section in sections(report) { (part(&section)) }
                p.caution { (report.caution) " " (NO_RANKING) }
            }
        }
    };
    page.into_string()
}

fn part(section: &Section) -> Markup {
    html! {
        @match section.rank {
            Rank::Whole => { h2.whole { (section.title) } }
            Rank::Part => { h3 { (section.title) } }
        }
        // Rows that follow each other are one table.
        @for pieces in section.pieces.chunk_by(|a, b| is_row(a) && is_row(b)) {
            @if pieces.iter().all(is_row) {
                table { @for piece in pieces { (shown(piece)) } }
            } @else {
                @for piece in pieces { (shown(piece)) }
            }
        }
    }
}

fn is_row(piece: &Piece) -> bool {
    matches!(piece, Piece::Row { .. })
}

fn shown(piece: &Piece) -> Markup {
    match piece {
        Piece::Said(said) => html! { p { (said) } },
        Piece::Row { name, words } => html! { tr { td.kind { (name) } td.said { (words) } } },
        Piece::Chart(drawing) => svg(drawing),
    }
}
