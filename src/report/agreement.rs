//! What the report on agreement says and in which order, once for the terminal, the page and the
//! window.

use super::drawing::{self, Drawing};
use crate::practice::agreement::{self, Agreement, Person};

/// Stands beside the caution on every report.
pub(crate) const NO_RANKING: &str = "It says where calls differ, not who is better.";

/// A part of the report under a title of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// Its title.
    pub title: String,
    /// How high the title stands.
    pub rank: Rank,
    /// What it says, from top to bottom.
    pub pieces: Vec<Piece>,
}

/// How high a title stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rank {
    /// Everybody, or one person.
    Whole,
    /// A part of that.
    Part,
}

/// Something that the report says.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// A sentence.
    Said(String),
    /// A name and what is said of it.
    Row {
        /// The name.
        name: String,
        /// What is said of it.
        words: String,
    },
    /// A chart of what rows say as well.
    Chart(Drawing),
}

/// Returns the whole report between its heading and its caution.
pub fn sections(report: &Agreement) -> Vec<Section> {
    let mut sections = everybody(report);
    sections.extend(report.people.iter().flat_map(person));
    if !report.remarks.is_empty() {
        let said = report.remarks.iter().cloned().map(Piece::Said);
        sections.push(Section::new(Rank::Whole, "Remarks", said));
    }
    sections
}

impl Section {
    fn new(rank: Rank, title: &str, pieces: impl IntoIterator<Item = Piece>) -> Self {
        Self { title: title.to_owned(), rank, pieces: pieces.into_iter().collect() }
    }
}

fn everybody(report: &Agreement) -> Vec<Section> {
    let said = match (report.people.is_empty(), report.situations.is_empty()) {
        (true, _) => Some("Nobody to compare."),
        (false, true) => Some("No call differs."),
        (false, false) => None,
    };
    let mut sections = vec![Section::new(
        Rank::Whole,
        "Everybody together",
        said.map(|said| Piece::Said(said.to_owned())),
    )];
    let mut part = |title: &str, pieces: Vec<Piece>| {
        if !pieces.is_empty() {
            sections.push(Section::new(Rank::Part, title, pieces));
        }
    };
    let kinds = report.kinds.iter().map(|line| {
        let same = line.same.0.as_ref();
        row(&line.kind, same.map_or_else(ToString::to_string, agreement::share_words))
    });
    let chart = (!report.kinds.is_empty()).then(|| Piece::Chart(drawing::by_kind(&report.kinds)));
    part("Which kinds of call differ most", kinds.chain(chart).collect());
    let situations = report.situations.iter().map(|line| {
        let of = line.same.0.as_ref().map_or(0, |same| same.of);
        let name = format!("{}: {}", line.kind, line.label);
        row(&name, format!("{} of {of} differ", line.differ))
    });
    part("Where answers differ most", situations.collect());
    if report.people.len() > 1 {
        let calls = report.group_calls.iter();
        let calls = calls.map(|line| row(&line.kind, agreement::call_words(line)));
        let values = report.group_values.iter();
        let values = values.map(|line| row(&line.kind, agreement::value_words(line)));
        part("Among each other, the reference left aside", calls.chain(values).collect());
    }
    sections
}

fn person(of: &Person) -> Vec<Section> {
    let elements = format!(
        "Elements: {} found, {} under another name, {} missed, {} invented",
        of.found, of.renamed, of.missed, of.invented
    );
    // Sets do not ask for elements unless they say so.
    let asked = of.found + of.renamed + of.missed + of.invented > 0;
    let elements = asked.then_some(Piece::Said(elements));
    let mut sections = vec![Section::new(Rank::Whole, &of.code, elements)];
    let mut part = |title: &str, pieces: Vec<Piece>| {
        if !pieces.is_empty() {
            sections.push(Section::new(Rank::Part, title, pieces));
        }
    };
    let scores = of.scores.iter();
    part("Scores", scores.map(|line| row(&line.routine, agreement::score_words(line))).collect());
    let calls = of.kinds.iter();
    part("Calls", calls.map(|line| row(&line.kind, agreement::kind_words(line))).collect());
    let numbers = of.numbers.iter().flat_map(|line| {
        let dates = agreement::dates_words(line).into_iter();
        let dates = dates.map(|(name, words)| Piece::Row { name, words });
        std::iter::once(row(&line.kind, agreement::number_words(line))).chain(dates)
    });
    part("Angles, scores and frames", numbers.collect());
    for line in &of.numbers {
        if let Ok(found) = &line.differences.0 {
            let chart = drawing::differences(line, found);
            part(&chart.title.clone(), vec![Piece::Chart(chart)]);
        }
    }
    if of.over_time.len() > 1 {
        let dates = of.over_time.iter().map(|at| {
            let same = at.same.0.as_ref();
            let same = same.map_or_else(ToString::to_string, agreement::share_words);
            row(&format!("on {}", agreement::date_words(&at.date)), same)
        });
        let chart = Piece::Chart(drawing::over_time(&of.over_time));
        part("Calls from date to date", dates.chain([chart]).collect());
    }
    sections
}

fn row(name: &str, words: String) -> Piece {
    Piece::Row { name: name.to_owned(), words }
}
