//! The report as one long paper.

use iced::{
    Alignment, Element, Length, Padding,
    widget::{Column, Id, button, center_x, column, container, row, rule, scrollable, text},
};

use super::{Message, PAPER, Report, chart::chart};
use crate::{
    practice::agreement::{self, Agreement, Person},
    report::drawing,
    window::{
        keymap::{self, Command},
        theme::{self, part, size},
    },
};

/// Nothing here says who is better.
const NO_RANKING: &str = "It says where calls differ, not who is better.";

impl Report {
    /// Draws the screen.
    pub fn view(&self) -> Element<'_, Message> {
        let report = &self.report;
        let heading = column![
            text(format!("Agreement with {}", report.reference))
                .size(size::LEAD)
                .font(theme::STRONG),
            quiet(report.books.join("; ")),
        ];
        let body = column(report.people.iter().map(person))
            .spacing(theme::space::WIDE)
            .push(remarks(&report.remarks));
        let body = column![overview(report), body].spacing(theme::space::WIDE);
        // The lane of the scroller lies beside the words.
        let room = Padding::ZERO.right(theme::space::LARGE);
        let body = container(body).padding(room).width(Length::Fill);
        let leave = button(text(format!("Close ({})", keymap::key_of(Command::Leave))));
        let foot = row![
            container(quiet(format!("{} {NO_RANKING}", report.caution))).width(Length::Fill),
            leave.style(theme::main_button).on_press(Message::Asked(Command::Leave)),
        ]
        .spacing(theme::space::MIDDLE)
        .align_y(Alignment::Center);
        let line = || rule::horizontal(1).style(theme::divider);
        let sheet = column![
            heading,
            line(),
            scrollable(body).id(Id::new(PAPER)).height(Length::Fill).style(theme::lane),
            line(),
            foot,
        ]
        .spacing(theme::space::MIDDLE);
        let sheet =
            container(sheet).width(part::PAGE).padding(theme::space::LARGE).style(theme::sheet);
        container(center_x(sheet))
            .height(Length::Fill)
            .padding(theme::space::MIDDLE)
            .style(theme::stage)
            .into()
    }
}

/// Everybody together.
fn overview(report: &Agreement) -> Element<'_, Message> {
    let mut parts = column![].spacing(theme::space::LARGE);
    if report.people.is_empty() {
        parts = parts.push(text("Nobody to compare."));
    }
    if !report.kinds.is_empty() {
        parts = parts.push(section(
            "Which kinds of call differ most, everybody together",
            column![chart(drawing::by_kind(&report.kinds))],
        ));
    }
    if !report.situations.is_empty() {
        let lines = report.situations.iter().map(|line| {
            let of = line.same.0.as_ref().map_or(0, |same| same.of);
            let name = format!("{}: {}", line.kind, line.situation);
            said(name, format!("{} of {of} differ", line.differ))
        });
        parts = parts.push(section("Where answers differ most", column(lines)));
    } else if !report.people.is_empty() {
        parts = parts.push(text("No call differs."));
    }
    if report.people.len() > 1 {
        let calls = report.group_calls.iter();
        let calls = calls.map(|line| said(line.kind.clone(), agreement::call_words(line)));
        let values = report.group_values.iter();
        let values = values.map(|line| said(line.kind.clone(), agreement::value_words(line)));
        parts = parts.push(section(
            "Among each other, the reference left aside",
            column(calls.chain(values)),
        ));
    }
    parts.into()
}

/// One person beside the reference.
fn person(of: &Person) -> Element<'_, Message> {
    let name = text(&of.code).size(size::LEAD).font(theme::STRONG);
    let mut parts =
        column![name, rule::horizontal(1).style(theme::divider)].spacing(theme::space::LARGE);
    if of.found + of.renamed + of.missed + of.invented > 0 {
        parts = parts.push(text(format!(
            "Elements: {} found, {} under another name, {} missed, {} invented",
            of.found, of.renamed, of.missed, of.invented
        )));
    }
    if !of.scores.is_empty() {
        let lines = of.scores.iter();
        let lines = lines.map(|line| said(line.routine.clone(), agreement::score_words(line)));
        parts = parts.push(section("Scores", column(lines)));
    }
    if !of.kinds.is_empty() {
        let lines = of.kinds.iter();
        let lines = lines.map(|line| said(line.kind.clone(), agreement::kind_words(line)));
        parts = parts.push(section("Calls", column(lines)));
    }
    if !of.numbers.is_empty() {
        let lines = of.numbers.iter().flat_map(|line| {
            let all = (line.kind.clone(), agreement::number_words(line));
            std::iter::once(all).chain(agreement::dates_words(line))
        });
        let lines = lines.map(|(name, words)| said(name, words));
        parts = parts.push(section("Angles, scores and frames", column(lines)));
    }
    for line in &of.numbers {
        if let Ok(found) = &line.differences.0 {
            let drawing = drawing::differences(line, found);
            let title = drawing.title.clone();
            parts = parts.push(column![strong(title), chart(drawing)].spacing(theme::space::TIGHT));
        }
    }
    if of.over_time.len() > 1 {
        parts = parts.push(section("Over time", column![chart(drawing::over_time(&of.over_time))]));
    }
    parts.into()
}

fn remarks(remarks: &[String]) -> Option<Element<'_, Message>> {
    let lines = remarks.iter().map(|remark| text(remark).into());
    (!remarks.is_empty()).then(|| section("Remarks", column(lines)))
}

fn section<'a>(title: &str, lines: Column<'a, Message>) -> Element<'a, Message> {
    column![strong(title.to_owned()), lines.spacing(theme::space::SMALL)]
        .spacing(theme::space::SMALL)
        .into()
}

fn said<'a>(name: String, words: String) -> Element<'a, Message> {
    row![
        text(name).width(Length::FillPortion(2)).style(theme::ink(theme::INK_QUIET)),
        text(words).width(Length::FillPortion(5)),
    ]
    .spacing(theme::space::MIDDLE)
    .into()
}

fn strong<'a>(title: String) -> Element<'a, Message> {
    text(title).font(theme::STRONG).into()
}

fn quiet<'a>(said: String) -> Element<'a, Message> {
    text(said).size(size::SMALL).style(theme::ink(theme::INK_QUIET)).into()
}
