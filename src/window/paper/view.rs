//! Draws the paper.

mod drag;
mod long;

use iced::{
    Alignment, Element, Length,
    widget::{button, column, container, row, rule, space, text},
};

use super::lines::{self, Block, Key, Line, Paper, Sign};
use crate::{
    sheet::ScoreSheet,
    units::Points,
    window::theme::{self, Current, part, size},
};

/// What the paper is drawn with.
pub(crate) struct Shown<'a, M> {
    /// The line that is chosen.
    pub chosen: Option<Key>,
    /// How far down what is in sight begins, and its height, in logical pixels.
    pub in_sight: [f32; 2],
    /// Makes a message of a line that was dragged onto another one, where lines can be dragged.
    pub dragged: Option<fn(Key, Key) -> M>,
    /// What stands in the place of the chosen line, where that is written anew.
    pub instead: Option<Element<'a, M>>,
}

/// Draws the routine and what it comes to; a press on a line says which.
pub(crate) fn view<'a, M: Clone + 'a>(
    paper: &'a Paper,
    shown: Shown<'a, M>,
    on_press: impl Fn(Key) -> M + Copy + 'a,
) -> Element<'a, M> {
    if is_long(paper) {
        return long::view(paper, shown, on_press);
    }
    let Shown { chosen, mut instead, mut dragged, .. } = shown;
    let blocks = std::iter::once(&paper.routine).chain(&paper.blocks).map(|block| {
        let lines = block.lines.iter().map(|it| match instead.take() {
            Some(instead) if chosen == Some(it.key) => instead,
            other => {
                instead = other;
                line(it, chosen, on_press)
            }
        });
        let mut drawn = column![heading(block), rule::horizontal(1).style(theme::divider)];
        for line in lines {
            drawn = drawn.push(line);
        }
        let drawn = drawn.spacing(theme::space::HAIR);
        // Only the routine comes first, and only its lines hang under one another.
        match dragged.take() {
            Some(dragged) => drag::draggable(drawn, HEAD, keys_of(block), dragged),
            None => drawn.into(),
        }
    });
    column(blocks).spacing(theme::space::LARGE).into()
}

/// What stands above a block's lines: its heading and a rule.
const HEAD: usize = 2;

fn keys_of(block: &Block) -> Vec<Key> {
    block.lines.iter().map(|line| line.key).collect()
}

/// Lines beyond which only what is in sight is drawn.
const MANY: usize = 200;

fn is_long(paper: &Paper) -> bool {
    let blocks = paper.blocks.iter().map(|block| block.lines.len());
    paper.routine.lines.len() + blocks.sum::<usize>() > MANY
}

/// Returns about how far down the paper a line of the routine lies, in logical pixels; close
/// enough to scroll there.
pub(crate) fn top_of(paper: &Paper, key: Key) -> f32 {
    if is_long(paper) {
        return long::top_of(paper, key);
    }
    let lines = paper.routine.lines.iter().take_while(|line| line.key != key);
    let height = |line: &Line| {
        let aside = aside(line);
        let rows = aside.chars().count().div_ceil(ASIDE_LETTERS) as f32;
        ROW * size::BODY + 3.0 * theme::space::HAIR + rows * ROW * size::SMALL
    };
    2.0 * ROW * size::SMALL + lines.map(height).sum::<f32>()
}

/// Height of a row of text over its size.
const ROW: f32 = 1.3;
/// Letters of a row of what is said beside a line.
const ASIDE_LETTERS: usize = 52;

/// Draws start value, deductions, score and range: what is always in sight.
pub(crate) fn score_band<'a, M: 'a>(sheet: &'a ScoreSheet) -> Element<'a, M> {
    let taken: Points = sheet
        .deductions
        .iter()
        .filter(|line| matches!(line.status, crate::sheet::Status::Taken))
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
    let range = text(range(sheet)).size(size::SMALL).style(theme::ink(theme::INK_OPEN));
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

/// Returns what the close calls leave open, in words; empty when nothing is open.
fn range(sheet: &ScoreSheet) -> String {
    let range = sheet.score_range;
    let spread = if range.low == range.high {
        String::new()
    } else {
        format!("open: {} to {}", range.low, range.high)
    };
    match (spread.is_empty(), range.may_be_void && !sheet.void) {
        (_, false) => spread,
        (true, true) => "open: may be void".to_owned(),
        (false, true) => format!("{spread}, may be void"),
    }
}

fn heading<'a, M: 'a>(block: &'a Block) -> Element<'a, M> {
    row![
        text(block.title).size(size::SMALL).font(theme::STRONG).style(theme::ink(theme::INK_QUIET)),
        space().width(Length::Fill),
        text(&block.total).size(size::SMALL).style(theme::ink(theme::INK_QUIET)),
    ]
    .padding([0.0, theme::space::SMALL])
    .into()
}

fn line<'a, M: Clone + 'a>(
    line: &'a Line,
    chosen: Option<Key>,
    on_press: impl Fn(Key) -> M + Copy + 'a,
) -> Element<'a, M> {
    let frame = line.frame.map(|frame| frame.to_string()).unwrap_or_default();
    let margin = container(text(frame).size(size::SMALL).style(theme::ink(theme::INK_QUIET)))
        .width(part::FRAME)
        .align_x(Alignment::End);
    let sign = container(
        text(line.sign.shape()).font(theme::STRONG).style(theme::ink(sign_ink(line.sign))),
    )
    .width(part::SIGN)
    .align_x(Alignment::Center);
    let right =
        container(text(&line.right).style(theme::ink(right_ink(line)))).align_x(Alignment::End);
    let hang = space().width(f32::from(line.depth) * part::HANG);
    let content = row![margin, hang, sign, words(line), right]
        .spacing(theme::space::SMALL)
        .align_y(Alignment::Start);
    button(content)
        .width(Length::Fill)
        .padding([theme::space::HAIR, theme::space::SMALL])
        .style(theme::paper_line(Current::from(chosen == Some(line.key))))
        .on_press(on_press(line.key))
        .into()
}

fn words<'a, M: 'a>(line: &'a Line) -> Element<'a, M> {
    let of_routine = matches!(line.key, Key::Item(_) | Key::Sheet(lines::RECOGNISED, _));
    let font = if line.depth == 0 && of_routine { theme::STRONG } else { theme::FONT };
    let said = text(&line.text).font(font);
    let aside = aside(line);
    if aside.is_empty() {
        return container(said).width(Length::Fill).into();
    }
    let aside = text(aside).size(size::SMALL).style(theme::ink(theme::INK_QUIET));
    column![said, aside].width(Length::Fill).into()
}

/// What is said beside a line; where its sign is bad news or none yet, first the sign's word.
fn aside(line: &Line) -> String {
    let word = match line.sign {
        Sign::Missed | Sign::Open | Sign::NotCounted | Sign::Waiting => line.sign.word(),
        Sign::Plain | Sign::Met | Sign::Taken => "",
    };
    [word, &line.aside].into_iter().filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" · ")
}

const fn sign_ink(sign: Sign) -> theme::Tint {
    match sign {
        Sign::Plain | Sign::NotCounted | Sign::Waiting => theme::INK_QUIET,
        Sign::Met => theme::INK_MET,
        Sign::Missed | Sign::Taken => theme::INK_MISSED,
        Sign::Open => theme::INK_OPEN,
    }
}

/// An angle below nothing takes nothing off.
fn right_ink(line: &Line) -> theme::Tint {
    if line.right.starts_with('−') && !line.right.contains('°') {
        theme::INK_MISSED
    } else {
        theme::INK
    }
}
