//! Several sheets made into one score: a panel's judges, or the attempts of one athlete.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::{
    rulebook::{Attempts, Book, Take},
    sheet::model::{CAUTION, ScoreRange, ScoreSheet, Standing, Status, start_words},
    units::Points,
};

use super::{
    attempts::attempts,
    panel::{Combined, beside_reference, combine, how},
    parts::{PartTogether, added, by_parts},
};

/// Several sheets beside one another, and what they come to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Together {
    /// Under which book; of the judge only where all sheets are one judge's.
    pub standing: Standing,
    /// What was put together, for a title: a panel, attempts.
    pub title: &'static str,
    /// How the book puts them together, in one plain sentence.
    pub how: String,
    /// The sheets in the order given.
    pub rows: Vec<Row>,
    /// The reference score that a panel was held against.
    pub reference: Option<Points>,
    /// The parts of the score, where the book puts them together apart.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartTogether>,
    /// What they come to.
    #[serde(flatten)]
    pub outcome: Combined,
    /// What they come to, in plain sentences.
    pub said: String,
    /// Where judges do not agree, part by part; empty for attempts.
    pub differ: Vec<Differ>,
    /// What every output says beside a score.
    pub caution: &'static str,
}

/// One sheet among several.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Row {
    /// The judge's code, or which attempt.
    pub name: String,
    /// Where the deductions begin.
    pub start_value: Option<Points>,
    /// What is taken off.
    pub taken: Points,
    /// The score, or nothing when void.
    pub score: Option<Points>,
    /// What the close calls leave.
    pub range: ScoreRange,
}

/// A part that judges see differently.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Differ {
    /// What it is: the start value, a requirement.
    pub part: String,
    /// What each judge's sheet says, in the order of the rows.
    pub said: Vec<String>,
}

/// Why sheets could not be put together.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TogetherError {
    /// Fewer than two.
    #[error("one sheet alone makes no {what}; name two or more marks files")]
    One {
        /// A panel or attempts.
        what: &'static str,
    },
    /// The book has no rule for it.
    #[error(
        "the book \"{book}\" does not say how {what} of {event} in {division} come together; add \
         [[{table}]] to it"
    )]
    NoRule {
        /// The book.
        book: String,
        /// Judges or attempts.
        what: &'static str,
        /// The event.
        event: String,
        /// The division.
        division: String,
        /// The table to add.
        table: &'static str,
    },
    /// The sheets are not of one routine, or not of one athlete's attempts.
    #[error(
        "the marks files differ in the {what}: \"{one}\" and \"{other}\"; name files of one {of}"
    )]
    NotOne {
        /// What differs.
        what: &'static str,
        /// In the first file.
        one: String,
        /// In another.
        other: String,
        /// A routine, or an athlete's attempts.
        of: &'static str,
    },
    /// No rule puts a part of the score together.
    #[error(
        "no [[panel]] of the book puts \"{part}\" together; name it in the \"parts\" of one, or add a \
         panel without \"parts\""
    )]
    NoPartRule {
        /// Id of the part.
        part: String,
    },
    /// The book has no score for one of them.
    #[error("{said}")]
    NoScore {
        /// Why, and what to do.
        said: String,
    },
    /// One judge twice in a panel.
    #[error("two of the marks files are of judge \"{judge}\"; a panel has each judge once")]
    SameJudge {
        /// The code.
        judge: String,
    },
}

/// Returns what the judges of one routine come to, as the book says.
pub fn panel(
    book: &Book,
    sheets: &[ScoreSheet],
    reference: Option<Points>,
) -> Result<Together, TogetherError> {
    let first = same(sheets, "panel", "routine")?;
    for (at, sheet) in sheets.iter().enumerate() {
        let judge = &sheet.standing.judge;
        if sheets[..at].iter().any(|other| other.standing.judge == *judge) {
            return Err(TogetherError::SameJudge { judge: judge.clone() });
        }
    }
    let rules = book.panels_of(&first.event, &first.division);
    let rule = rules.first().ok_or_else(|| no_rule(book, first, ("the judges", "panel")))?;
    let scores: Vec<Option<Points>> = sheets.iter().map(|sheet| sheet.score).collect();
    let parts = if rules.iter().all(|rule| rule.parts.is_empty()) {
        Vec::new()
    } else {
        by_parts(&rules, sheets).map_err(|part| TogetherError::NoPartRule { part })?
    };
    let own = if parts.is_empty() {
        combine(rule, &scores)
    } else {
        added(book.scoring(&first.event, &first.division), &parts)
    };
    let outcome = match (&own, reference) {
        (Combined::Score { score }, Some(reference)) => beside_reference(rule, *score, reference),
        _ => own.clone(),
    };
    Ok(Together {
        standing: Standing { judge: String::new(), ..first.clone() },
        title: "Panel",
        how: if parts.is_empty() {
            how(rule)
        } else {
            "The judges' parts are put together apart, then added.".to_owned()
        },
        rows: sheets.iter().map(|sheet| row(sheet, sheet.standing.judge.clone())).collect(),
        reference,
        said: said(&own, &outcome, reference),
        parts,
        outcome,
        differ: differ(sheets),
        caution: CAUTION,
    })
}

/// Returns what the attempts of one athlete come to, as the book says.
pub fn attempts_together(book: &Book, sheets: &[ScoreSheet]) -> Result<Together, TogetherError> {
    let first = same(sheets, "attempts", "athlete")?;
    let rule = book
        .attempts_of(&first.event, &first.division)
        .ok_or_else(|| no_rule(book, first, ("attempts", "attempts")))?;
    let scores: Vec<Option<Points>> = sheets.iter().map(|sheet| sheet.score).collect();
    let outcome = match attempts(rule, &scores) {
        Some(score) => Combined::Score { score },
        None => Combined::Void,
    };
    let more = unlike_adds(book, rule, sheets);
    let outcome = match (outcome, more) {
        (Combined::Score { score }, Some(more)) => Combined::Score { score: score + more },
        (outcome, _) => outcome,
    };
    let mut how = match rule.take {
        Take::Best => "The best attempt counts.",
        Take::Mean => "The mean of all attempts counts.",
        Take::Sum => "All attempts are added up.",
    }
    .to_owned();
    if let Some(more) = more {
        how = format!("{how} Different elements add {}.", more.short());
    }
    let name = |at: usize| format!("attempt {}", at + 1);
    Ok(Together {
        standing: first.clone(),
        title: "Attempts",
        how,
        rows: sheets.iter().enumerate().map(|(at, sheet)| row(sheet, name(at))).collect(),
        reference: None,
        said: said(&outcome, &outcome, None),
        parts: Vec::new(),
        outcome,
        differ: Vec::new(),
        caution: CAUTION,
    })
}

/// Returns what attempts at different elements add, such as two vaults: none is void, and no two are of
/// one family.
fn unlike_adds(book: &Book, rule: &Attempts, sheets: &[ScoreSheet]) -> Option<Points> {
    let more = rule.unlike_adds?;
    let family = |sheet: &ScoreSheet| {
        let line = sheet.elements.first().filter(|_| !sheet.void)?;
        let element = book.element(&sheet.standing.event, &line.element)?;
        Some(element.family.clone())
    };
    let families: Option<BTreeSet<String>> = sheets.iter().map(family).collect();
    families.filter(|families| families.len() == sheets.len()).map(|_| more)
}

/// Returns the standing of the first sheet, when all are of one event, division and athlete.
fn same<'s>(
    sheets: &'s [ScoreSheet],
    what: &'static str,
    of: &'static str,
) -> Result<&'s Standing, TogetherError> {
    let [first, rest @ ..] = sheets else { return Err(TogetherError::One { what }) };
    if rest.is_empty() {
        return Err(TogetherError::One { what });
    }
    if let Some(why) = sheets.iter().find_map(|sheet| sheet.unscored.as_ref()) {
        return Err(TogetherError::NoScore { said: why.said() });
    }
    let first = &first.standing;
    for other in rest.iter().map(|sheet| &sheet.standing) {
        for (what, one, other) in [
            ("event", &first.event, &other.event),
            ("division", &first.division, &other.division),
            ("athlete", &first.athlete, &other.athlete),
            ("date", &first.date, &other.date),
        ] {
            if one != other {
                let (one, other) = (one.clone(), other.clone());
                return Err(TogetherError::NotOne { what, one, other, of });
            }
        }
    }
    Ok(first)
}

fn no_rule(
    book: &Book,
    standing: &Standing,
    (what, table): (&'static str, &'static str),
) -> TogetherError {
    let (event, division) = (standing.event.clone(), standing.division.clone());
    TogetherError::NoRule { book: book.id.clone(), what, event, division, table }
}

fn row(sheet: &ScoreSheet, name: String) -> Row {
    Row {
        name,
        start_value: sheet.start_value,
        taken: taken(sheet),
        score: sheet.score,
        range: sheet.score_range,
    }
}

fn taken(sheet: &ScoreSheet) -> Points {
    sheet.deductions.iter().map(|line| line.amount).sum()
}

fn said(own: &Combined, outcome: &Combined, reference: Option<Points>) -> String {
    let of_judges = match own {
        Combined::Score { score } => format!("The score is {score}."),
        Combined::TooFarApart { average, difference, allowed } => format!(
            "The scores would make {average}, but differ by {}, and {} is allowed there: the \
             judges confer.",
            difference.short(),
            allowed.short()
        ),
        Combined::VoidDisputed { void, scored } => format!(
            "{void} of {} say void and {scored} do not: the judges confer, and no mean is taken.",
            void + scored
        ),
        Combined::Void => "All say void: it counts 0.000.".to_owned(),
        Combined::TooFew => "There are too few scores to leave out the highest and lowest.".into(),
    };
    match (reference, own, outcome) {
        (Some(reference), Combined::Score { score }, outcome) if own == outcome => {
            format!("The score is {score}; the reference {reference} lies within what is allowed.")
        }
        (Some(reference), Combined::Score { score }, Combined::Score { score: mean }) => format!(
            "The panel's {score} lies too far from the reference {reference}; the mean of both, \
             {mean}, counts."
        ),
        (Some(reference), Combined::Score { score }, _) => format!(
            "The panel's {score} lies too far from the reference {reference}: the judges confer."
        ),
        _ => of_judges,
    }
}

/// Returns where the judges' sheets are not alike: start value, what is missing, what is taken.
fn differ(sheets: &[ScoreSheet]) -> Vec<Differ> {
    let start = |sheet: &ScoreSheet| start_words(sheet.start_value);
    let mut parts = vec![Differ::of("Start value", sheets, start)];
    for (at, part) in sheets[0].value_parts.iter().enumerate() {
        let shown = |sheet: &ScoreSheet| {
            sheet.value_parts.get(at).map_or(String::new(), |part| part.shown.to_string())
        };
        parts.push(Differ::of(&format!("Value parts, {}", part.label), sheets, shown));
    }
    for (at, line) in sheets[0].requirements.iter().enumerate() {
        let status = |sheet: &ScoreSheet| {
            let status = sheet.requirements.get(at).map(|line| line.status);
            status.map_or("", in_words).to_owned()
        };
        parts.push(Differ::of(&line.label, sheets, status));
    }
    parts.push(Differ::of("Taken off", sheets, |sheet| taken(sheet).to_string()));
    parts.push(Differ::of("Void", sheets, |sheet| {
        if sheet.void { "void" } else { "not void" }.to_owned()
    }));
    parts.retain(|part| part.said.iter().any(|said| *said != part.said[0]));
    parts
}

impl Differ {
    fn of(part: &str, sheets: &[ScoreSheet], says: impl Fn(&ScoreSheet) -> String) -> Self {
        Self { part: part.to_owned(), said: sheets.iter().map(says).collect() }
    }
}

const fn in_words(status: Status) -> &'static str {
    match status {
        Status::Met => "met",
        Status::Close => "close",
        _ => "missing",
    }
}
