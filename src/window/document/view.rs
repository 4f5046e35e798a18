//! Parts of a page under one another.

use iced::{
    Element, Length, Padding,
    widget::{column, container, row, rule},
};

use super::chart::chart;
use crate::{
    report::document::{Part, Piece, Rank, RuledTable, Table},
    sheet::frames_words,
    window::theme::{self, part, size, text},
};

/// Draws the parts of a page.
pub(crate) fn parts<'a, M: 'a>(parts: &[Part]) -> Element<'a, M> {
    column(parts.iter().map(shown)).spacing(theme::space::LARGE).into()
}

fn shown<'a, M: 'a>(part: &Part) -> Element<'a, M> {
    let title = text(part.title.clone()).font(theme::STRONG);
    let line = || rule::horizontal(1).style(theme::divider);
    let heading = match part.rank {
        // What stands over others begins well apart from the one before.
        Rank::Whole => Some(
            container(column![title.size(size::LEAD), line()].spacing(theme::space::SMALL))
                .padding(Padding::ZERO.top(theme::space::MIDDLE)),
        ),
        Rank::Part if part.title.is_empty() => None,
        Rank::Part => Some(container(title)),
    };
    let pieces = part.pieces.iter().map(piece);
    column![heading, column(pieces).spacing(theme::space::SMALL)]
        .spacing(theme::space::SMALL)
        .into()
}

fn piece<'a, M: 'a>(piece: &Piece) -> Element<'a, M> {
    match piece {
        Piece::Said(said) => text(said.clone()).into(),
        Piece::Row { name, words } => named(name, words),
        Piece::Totals(totals) => {
            column(totals.iter().map(|[name, figure]| named(name, figure))).into()
        }
        Piece::List(items) => column(items.iter().map(|item| text(item.clone()).into()))
            .spacing(theme::space::TIGHT)
            .into(),
        Piece::Ruled(table) => ruled(table),
        Piece::Table(rows) => table(rows),
        Piece::Chart(drawing) => chart(drawing.clone()),
        // Pictures and room to write in are for paper.
        Piece::Still(still) => text(still.caption.clone()).into(),
        Piece::Blanks(blanks) => text(blanks.join(", ")).into(),
    }
}

fn named<'a, M: 'a>(name: &str, words: &str) -> Element<'a, M> {
    row![
        text(name.to_owned()).width(Length::FillPortion(2)).style(theme::ink(theme::INK_QUIET)),
        text(words.to_owned()).width(Length::FillPortion(5)),
    ]
    .spacing(theme::space::MIDDLE)
    .into()
}

fn ruled<'a, M: 'a>(table: &RuledTable) -> Element<'a, M> {
    let lines = table.headed().flat_map(|(head, line)| {
        let frames = frames_words(&line.frames);
        let name = format!("{} {} {}", line.status.sign(), line.name, line.amount);
        let said = named(name.trim_end(), &format!("{frames} {}", line.why.join(" ")));
        head.map(|head| text(head.to_owned()).font(theme::STRONG).into()).into_iter().chain([said])
    });
    column(lines).spacing(theme::space::TIGHT).into()
}

fn table<'a, M: 'a>(table: &Table) -> Element<'a, M> {
    let width = |holds: &str| match holds {
        "short" | "page" => Length::Fixed(part::SHORTHAND),
        "name" | "label" | "says" => Length::FillPortion(4),
        _ => Length::FillPortion(1),
    };
    let holds = || table.columns.iter().map(|column| column.holds);
    let headed = table.columns.iter().any(|column| !column.head.is_empty());
    let head = table.columns.iter().map(|column| {
        text(column.head.clone())
            .font(theme::STRONG)
            .size(size::SMALL)
            .width(width(column.holds))
            // In a narrow column even a single word goes on in a second line.
            .wrapping(text::Wrapping::WordOrGlyph)
            .into()
    });
    let head = headed.then(|| row(head).spacing(theme::space::SMALL).into());
    let rows = table.rows.iter().map(|cells| {
        let cells = cells.iter().zip(holds()).map(|(cell, holds)| {
            let words = text(cell.words()).width(width(holds));
            match holds {
                "label" | "says" | "name" => words.into(),
                _ => words.size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into(),
            }
        });
        row(cells).spacing(theme::space::SMALL).into()
    });
    column(head.into_iter().chain(rows)).spacing(theme::space::TIGHT).into()
}
