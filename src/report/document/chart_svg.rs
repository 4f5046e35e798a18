//! A chart as SVG inside a page: no script, no other file, readable in black and white.

use maud::{Markup, html};

use super::chart::{ChartPiece, ChartStroke, Drawing, Fill, TextSide};

/// Returns the chart as an SVG element.
pub(super) fn svg(drawing: &Drawing) -> Markup {
    let [width, height] = drawing.size.map(at);
    html! {
        svg viewBox={ "0 0 " (width) " " (height) } role="img" aria-label=(drawing.title) {
            @for piece in &drawing.pieces { (one(piece)) }
        }
    }
}

fn one(piece: &ChartPiece) -> Markup {
    match piece {
        ChartPiece::Line { ends: [[x1, y1], [x2, y2]], stroke } => {
            let (class, dash) = match stroke {
                ChartStroke::Grid => ("grid", ""),
                ChartStroke::Axis => ("axis", ""),
                ChartStroke::Value => ("mark", ""),
                ChartStroke::Limit => ("mark", "6 4"),
            };
            html! {
                line class=(class) x1=(at(*x1)) y1=(at(*y1)) x2=(at(*x2)) y2=(at(*y2))
                    stroke-dasharray=(dash) {}
            }
        }
        ChartPiece::Area { corner: [x, y], size: [width, height], fill } => {
            let class = match fill {
                Fill::Bar => "bar",
                Fill::Band => "band",
            };
            html! {
                rect class=(class) x=(at(*x)) y=(at(*y)) width=(at(*width)) height=(at(*height)) {}
            }
        }
        ChartPiece::Dot([x, y]) => html! { circle cx=(at(*x)) cy=(at(*y)) r="3.5" {} },
        ChartPiece::Words { at: [x, y], words, side } => {
            let anchor = match side {
                TextSide::Start => "start",
                TextSide::Middle => "middle",
                TextSide::End => "end",
            };
            html! { text x=(at(*x)) y=(at(*y)) text-anchor=(anchor) { (words) } }
        }
    }
}

/// Returns a place to a tenth of a unit, which keeps the page small.
fn at(place: f64) -> String {
    format!("{place:.1}")
}
