//! Lines of a page for a terminal.

use std::fmt::Write as _;

use crate::{
    sheet::{FrameAt, Standing, Status},
    units::Points,
};

/// Columns of the page.
const WIDTH: usize = 92;
/// Columns of the name of a line.
pub(crate) const NAME: usize = 46;

/// A page being written.
#[derive(Default)]
pub(crate) struct Page(pub String);

impl Page {
    /// Writes a line as it is.
    pub(crate) fn line(&mut self, line: &str) {
        self.0.push_str(line.trim_end());
        self.0.push('\n');
    }

    /// Writes an empty line.
    pub(crate) fn gap(&mut self) {
        self.0.push('\n');
    }

    /// Writes a title and every item under it; nothing where there are none.
    pub(crate) fn list<T>(&mut self, title: &str, items: &[T], each: impl Fn(&mut Self, &T)) {
        if items.is_empty() {
            return;
        }
        self.gap();
        self.line(title);
        for item in items {
            each(self, item);
        }
    }

    /// Writes a line of the sheet: sign, name, amount, frames.
    pub(crate) fn row(&mut self, (status, name): (Status, &str), amount: &str, frames: &[FrameAt]) {
        let row = format!("  {} {:<NAME$} {amount:>8}  {}", sign(status), cut(name), said(frames));
        self.line(&row);
    }

    /// Writes words over as many lines as they take.
    pub(crate) fn wrapped(&mut self, indent: &str, words: &str) {
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

    /// Writes why a line stands there, with the page of the club's own book.
    pub(crate) fn why(&mut self, reason: &str, page: &str) {
        let page = if page.is_empty() { String::new() } else { format!(" ({page})") };
        self.wrapped("      ", &format!("{reason}{page}"));
    }

    /// Writes under which rules a sheet was made, and for whom.
    pub(crate) fn standing(&mut self, standing: &Standing) {
        let Standing { title, edition, .. } = standing;
        self.line(&format!("{title}, edition {edition} ({})", standing.short_hash()));
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

    /// Writes a total.
    pub(crate) fn total(&mut self, name: &str, amount: Option<Points>) {
        self.gap();
        let amount = amount.map_or("void".to_owned(), |amount| amount.to_string());
        self.line(&format!("  {:<width$} {amount:>8}", name, width = NAME + 2));
    }
}

const fn sign(status: Status) -> char {
    match status {
        Status::Met => '+',
        Status::Missed | Status::Taken => '\u{2212}',
        Status::Close => '?',
        Status::NotCounted => ' ',
    }
}

/// Returns what is taken off with its sign; nothing where nothing is.
pub(crate) fn signed(amount: Points) -> String {
    if amount == Points::ZERO { String::new() } else { amount.taken_off() }
}

fn cut(name: &str) -> String {
    if name.chars().count() <= NAME {
        return name.to_owned();
    }
    name.chars().take(NAME - 1).chain(['…']).collect()
}

/// Returns the frames in words: `frame 118 (3.933 s)`, two of them as from and to.
pub(crate) fn said(frames: &[FrameAt]) -> String {
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
