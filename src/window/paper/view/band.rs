//! What is always in sight: start value, deductions, score and range.

use iced::{
    Alignment, Element, Length,
    widget::{column, row, space},
};

use crate::{
    sheet::{ScoreSheet, Status, start_words},
    units::Points,
    window::theme::{self, size, text},
};

/// Draws start value, deductions, score and range: what is always in sight.
pub(crate) fn score_band<'a, M: 'a>(sheet: &'a ScoreSheet) -> Element<'a, M> {
    let taken: Points = sheet
        .deductions
        .iter()
        .filter(|line| matches!(line.status, Status::Taken))
        .map(|line| line.amount)
        .sum();
    let figure = |label: &'static str, value: String| {
        column![
            text(label).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
            text(value).size(size::LEAD).font(theme::STRONG),
        ]
    };
    let small = row![
        figure("Start value", start_words(sheet.start_value)),
        figure("Deductions", taken.taken_off()),
    ]
    .spacing(theme::space::LARGE)
    .align_y(Alignment::End);
    row![small, space().width(Length::Fill), score(sheet)]
        .spacing(theme::space::LARGE)
        .align_y(Alignment::End)
        .into()
}

fn score<'a, M: 'a>(sheet: &'a ScoreSheet) -> Element<'a, M> {
    let is_open = sheet.score.is_some() && sheet.score_range.is_open();
    let label = match (is_open, &sheet.unscored) {
        (true, _) => text("Score, open").style(theme::ink(theme::INK_OPEN)),
        (false, None) => text("Score").style(theme::ink(theme::INK_QUIET)),
        (false, Some(_)) => text("Score: not in this book").style(theme::ink(theme::INK_OPEN)),
    };
    let figure = match sheet.score {
        Some(_) => text(sheet.range_words()),
        None if sheet.unscored.is_some() => text("NONE").style(theme::ink(theme::INK_MISSED)),
        None => text("VOID").style(theme::ink(theme::INK_MISSED)),
    };
    let large = if is_open { size::RANGE } else { size::SCORE };
    let figure = figure.size(large).font(theme::STRONG).line_height(1.0);
    column![label.size(size::SMALL), figure].align_x(Alignment::End).into()
}
