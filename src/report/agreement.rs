//! The report on agreement as a page.

use crate::practice::agreement::{self, Agreement, Person};

use super::document::{Document, Part, Piece, Style, chart};

/// Stands beside the caution on every report.
const NO_RANKING: &str = "It says where calls differ, not who is better.";

/// Returns the report on agreement as a page.
pub fn agreement(report: &Agreement) -> Document {
    Document {
        title: format!("Agreement with {}", report.reference),
        head: report.books.clone(),
        parts: parts(report),
        caution: format!("{} {NO_RANKING}", report.caution),
        style: Style::Page,
    }
}

fn parts(report: &Agreement) -> Vec<Part> {
    let mut parts = everybody(report);
    parts.extend(report.people.iter().flat_map(person));
    if !report.remarks.is_empty() {
        let said = report.remarks.iter().cloned().map(Piece::Said);
        parts.push(Part::whole("Remarks", said));
    }
    parts
}

fn everybody(report: &Agreement) -> Vec<Part> {
    let said = lead(report).map(|said| Piece::Said(said.to_owned()));
    let mut parts = vec![Part::whole("Everybody together", said)];
    let mut part = |title: &str, pieces: Vec<Piece>| {
        if !pieces.is_empty() {
            parts.push(Part::new(title, pieces));
        }
    };
    let sorts = report.compared.sorts().into_iter();
    let sorts = sorts.filter(|_| report.compared.all().of > 0);
    part("What was compared", sorts.map(|(name, sort)| Piece::row(name, sort.words())).collect());
    part("What was not compared", report.not_compared.iter().cloned().map(Piece::Said).collect());
    let kinds = report.kinds.iter().map(|line| {
        let same = line.same.0.as_ref();
        Piece::row(&line.kind, same.map_or_else(ToString::to_string, agreement::share_words))
    });
    let chart = (!report.kinds.is_empty()).then(|| Piece::Chart(chart::by_kind(&report.kinds)));
    part("Which kinds of call differ most", kinds.chain(chart).collect());
    let situations = report.situations.iter().map(|line| {
        let of = line.same.0.as_ref().map_or(0, |same| same.of);
        let name = format!("{}: {}", line.kind, line.label);
        Piece::row(&name, format!("{} of {of} differ", line.differ))
    });
    part("Where answers differ most", situations.collect());
    if report.people.len() > 1 {
        let calls = report.group_calls.iter();
        let calls = calls.map(|line| Piece::row(&line.kind, agreement::call_words(line)));
        let values = report.group_values.iter();
        let values = values.map(|line| Piece::row(&line.kind, agreement::value_words(line)));
        part("Among each other, the reference left aside", calls.chain(values).collect());
    }
    parts
}

/// Returns the sentence that stands first, where nothing differs: it never takes what was not
/// compared for agreement.
fn lead(report: &Agreement) -> Option<&'static str> {
    let all = report.compared.all();
    match (report.people.is_empty(), all.of, all.differ) {
        (true, ..) => Some("Nobody to compare."),
        (false, 0, _) => Some("Nothing was compared."),
        (false, _, 0) => Some("Nothing that was compared differs."),
        _ => None,
    }
}

fn person(of: &Person) -> Vec<Part> {
    let elements = format!(
        "Elements: {} found, {} under another name, {} missed, {} invented",
        of.found, of.renamed, of.missed, of.invented
    );
    // Sets do not ask for elements unless they say so.
    let asked = of.found + of.renamed + of.missed + of.invented > 0;
    let elements = asked.then_some(Piece::Said(elements));
    let mut parts = vec![Part::whole(&of.code, elements)];
    let mut part = |title: &str, pieces: Vec<Piece>| {
        if !pieces.is_empty() {
            parts.push(Part::new(title, pieces));
        }
    };
    let scores = of.scores.iter();
    part(
        "Scores",
        scores.map(|line| Piece::row(&line.routine, agreement::score_words(line))).collect(),
    );
    let calls = of.kinds.iter();
    part("Calls", calls.map(|line| Piece::row(&line.kind, agreement::kind_words(line))).collect());
    let numbers = of.numbers.iter().flat_map(|line| {
        let dates = agreement::dates_words(line).into_iter();
        let dates = dates.map(|(name, words)| Piece::Row { name, words });
        std::iter::once(Piece::row(&line.kind, agreement::number_words(line))).chain(dates)
    });
    part("Angles, scores and frames", numbers.collect());
    for line in &of.numbers {
        if let Ok(found) = &line.differences.0 {
            let chart = chart::differences(line, found);
            part(&chart.title.clone(), vec![Piece::Chart(chart)]);
        }
    }
    if of.over_time.len() > 1 {
        let dates = of.over_time.iter().map(|at| {
            let same = at.same.0.as_ref();
            let same = same.map_or_else(ToString::to_string, agreement::share_words);
            Piece::row(&format!("on {}", agreement::date_words(&at.date)), same)
        });
        let chart = Piece::Chart(chart::over_time(&of.over_time));
        part("Calls from date to date", dates.chain([chart]).collect());
    }
    parts
}
