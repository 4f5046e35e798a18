//! What is always in sight: start value, deductions, score and range.

use iced::{
    Alignment, Element, Length,
    widget::{column, row, space},
};

use crate::{
    sheet::{ScoreSheet, Status},
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
        figure("Start value", sheet.start_value.to_string()),
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
    let open = sheet.score.filter(|_| sheet.score_range.is_open());
    let open = open.map(|score| format!("open: {}", sheet.score_range.words(Some(score))));
    let range = text(open.unwrap_or_default()).size(size::SMALL).style(theme::ink(theme::INK_OPEN));
    let figure = match sheet.score {
        Some(score) => text(score.to_string()),
        None => text("VOID").style(theme::ink(theme::INK_MISSED)),
    };
    let label = text("Score").size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    row![
        range,
        column![label, figure.size(size::SCORE).font(theme::STRONG).line_height(1.0)]
            .align_x(Alignment::End)
    ]
    .spacing(theme::space::MIDDLE)
    .align_y(Alignment::End)
    .into()
}
