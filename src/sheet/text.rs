//! The sheet for a terminal, and as JSON.

use std::fmt::Write as _;

use super::model::{
    ElementLine, FrameAt, Line, Requirement, ScoreSheet, Standing, Status, ValuePart, WinBack,
};
use crate::units::Points;

/// Columns of the page.
const WIDTH: usize = 92;
/// Columns of the name of a line.
const NAME: usize = 46;

/// Returns the sheet as JSON; amounts are texts with three decimals.
pub fn to_json(sheet: &ScoreSheet) -> serde_json::Value {
    serde_json::to_value(sheet).unwrap_or_default()
}

/// Returns the sheet as plain text for a terminal, at most 92 columns wide.
pub fn text(sheet: &ScoreSheet) -> String {
    let mut page = Page::default();
    page.standing(&sheet.standing);
    page.list("Elements", &sheet.elements, Page::element);
    page.list("Value parts", &sheet.value_parts, Page::value_part);
    page.list("Requirements", &sheet.requirements, Page::requirement);
    page.total("Start value", Some(sheet.start_value));
    page.list("Deductions", &sheet.deductions, Page::deduction);
    page.result(sheet);
    page.list("Void", &sheet.void_reasons, Page::remark);
    page.list("To win it back", &sheet.win_back, Page::win_back);
    page.list("Remarks", &sheet.remarks, Page::remark);
    page.gap();
    page.wrapped("", sheet.caution);
    page.0
}

#[derive(Default)]
struct Page(String);

impl Page {
    fn line(&mut self, line: &str) {
        self.0.push_str(line.trim_end());
        self.0.push('\n');
    }

    fn gap(&mut self) {
        self.0.push('\n');
    }

    fn list<T>(&mut self, title: &str, items: &[T], each: impl Fn(&mut Self, &T)) {
        if items.is_empty() {
            return;
        }
        self.gap();
        self.line(title);
        for item in items {
            each(self, item);
        }
    }

    /// Writes a line of the sheet: sign, name, amount, frames, and under it why.
    fn row(&mut self, (status, name): (Status, &str), amount: &str, frames: &[FrameAt]) {
        let row = format!("  {} {:<NAME$} {amount:>8}  {}", sign(status), cut(name), said(frames));
        self.line(&row);
    }

    fn wrapped(&mut self, indent: &str, words: &str) {
        let mut line = indent.to_owned();
        for word in words.split_whitespace() {
            if line.chars().count() + word.chars().count() + 1 > WIDTH && line.trim() != "" {
                self.line(&line);
                indent.clone_into(&mut line);
            }
            if line.trim() != "" {
                line.push(' ');
            }
            line.push_str(word);
        }
        self.line(&line);
    }

    fn standing(&mut self, standing: &Standing) {
        self.line(&format!("{}, edition {}", standing.title, standing.edition));
        let mut who = format!("{}, {}", standing.event, standing.division);
        for (word, what) in
            [("athlete", &standing.athlete), ("judge", &standing.judge), ("on", &standing.date)]
        {
            if !what.is_empty() {
                let _ = write!(who, ", {word} {what}");
            }
        }
        self.line(&who);
    }

    fn element(&mut self, line: &ElementLine) {
        self.row((line.status, &line.label), &line.class, &line.frames);
        if line.status != Status::Met {
            self.why(&line.reason);
        }
        for decision in &line.decisions {
            self.why(&format!("{}: {}", decision.label, decision.reason));
        }
    }

    fn value_part(&mut self, line: &ValuePart) {
        let name = format!("{}, {} of {}", line.label, line.shown, line.asked);
        self.row((line.status, &name), &off(line.amount), &[]);
    }

    fn requirement(&mut self, line: &Requirement) {
        self.row((line.status, &line.label), &off(line.amount), &line.frames);
        self.why(&line.reason);
    }

    fn deduction(&mut self, line: &Line) {
        self.row((line.status, &line.label), &off(line.amount), &line.frames);
        self.why(&line.reason);
    }

    fn remark(&mut self, line: &Line) {
        self.row((line.status, &line.label), "", &line.frames);
        self.why(&line.reason);
    }

    fn win_back(&mut self, line: &WinBack) {
        self.wrapped("    ", &line.change);
        let score = line.score.map_or("void".to_owned(), |score| score.to_string());
        self.line(&format!("      start value {}, score {score}", line.start_value));
    }

    fn why(&mut self, reason: &str) {
        self.wrapped("      ", reason);
    }

    fn total(&mut self, name: &str, amount: Option<Points>) {
        self.gap();
        let amount = amount.map_or("void".to_owned(), |amount| amount.to_string());
        self.line(&format!("  {:<width$} {amount:>8}", name, width = NAME + 2));
    }

    fn result(&mut self, sheet: &ScoreSheet) {
        self.total("Score", sheet.score);
        let range = sheet.score_range;
        let void = if range.may_be_void && !sheet.void { ", or void" } else { "" };
        if range.low != range.high || !void.is_empty() {
            self.line(&format!("  close calls leave {} to {}{void}", range.low, range.high));
        }
    }
}

const fn sign(status: Status) -> char {
    match status {
        Status::Met => '+',
        Status::Missed | Status::Taken => '-',
        Status::Close => '?',
        Status::NotCounted => ' ',
    }
}

fn off(amount: Points) -> String {
    if amount == Points::ZERO { String::new() } else { Points(-amount.0).to_string() }
}

fn cut(name: &str) -> String {
    if name.chars().count() <= NAME {
        return name.to_owned();
    }
    name.chars().take(NAME - 1).chain(['…']).collect()
}

/// Returns the frames in words: `frame 118 (3.933 s)`, two of them as from and to.
fn said(frames: &[FrameAt]) -> String {
    let one = |frame: &FrameAt| format!("frame {} ({:.3} s)", frame.frame, frame.time_s);
    match frames {
        [] => String::new(),
        [only] => one(only),
        [first, .., last] if first.frame == last.frame => one(first),
        [first, .., last] => {
            format!(
                "{} to {} ({:.1} to {:.1} s)",
                first.frame, last.frame, first.time_s, last.time_s
            )
        }
    }
}
