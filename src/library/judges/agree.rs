//! What several judges saw side by side, and what came out as the reference.

use std::collections::BTreeMap;

use crate::{
    library::consent::sidecar::AgreedCall,
    sheet::{ScoreSheet, Status, start_words},
};

/// One question with the answers of several sheets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Beside {
    /// What is asked, as in `AgreedCall::asks`.
    pub asks: String,
    /// The same in the book's words.
    pub label: String,
    /// The answer of each sheet, in their order; nothing where a sheet does not ask.
    pub answers: Vec<Option<String>>,
}

impl Beside {
    /// Returns whether not all answers are the same.
    pub fn differs(&self) -> bool {
        self.answers.iter().any(|answer| *answer != self.answers[0])
    }
}

/// A call that comes out otherwise than it was agreed on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// What is asked.
    pub asks: String,
    /// The same in the book's words.
    pub label: String,
    /// As agreed; nothing where it was not asked then.
    pub agreed: Option<String>,
    /// As it comes out now; nothing where it is no longer asked.
    pub now: Option<String>,
}

/// Returns what a sheet answers, in its order.
///
/// Elements are named by id and turn, because two judges never share the id of a mark.
pub(crate) fn calls_of(sheet: &ScoreSheet) -> Vec<AgreedCall> {
    let mut calls = vec![
        call("void".to_owned(), "Void", if sheet.void { "yes" } else { "no" }),
        call("start value".to_owned(), "Start value", &start_words(sheet.start_value)),
        call("score".to_owned(), "Score", &sheet.score_words()),
    ];
    for one in &sheet.requirements {
        calls.push(call(format!("requirement {}", one.id), &one.label, word(one.status)));
    }
    let mut turns: BTreeMap<&str, usize> = BTreeMap::new();
    for line in &sheet.elements {
        let turn = turns.entry(&line.element).or_default();
        *turn += 1;
        let name = format!("{} {turn}", line.element);
        calls.push(call(format!("value of {name}"), &line.label, word(line.status)));
        for decision in &line.decisions {
            let answer = decision.status.map_or("open", word);
            let label = of_element(&line.label, &decision.label);
            calls.push(call(format!("{} at {name}", decision.rule), &label, answer));
        }
    }
    calls.extend(taken(sheet));
    calls
}

/// Returns what was taken off, summed up by rule.
fn taken(sheet: &ScoreSheet) -> Vec<AgreedCall> {
    let mut sums: BTreeMap<&str, (&str, crate::units::Points)> = BTreeMap::new();
    for line in sheet.deductions.iter().filter(|line| line.status != Status::NotCounted) {
        let sum = sums.entry(&line.rule).or_insert((&line.label, crate::units::Points::ZERO));
        sum.1 += line.amount;
    }
    let lines = sums.into_iter();
    lines
        .map(|(rule, (label, sum))| call(format!("taken for {rule}"), label, &sum.to_string()))
        .collect()
}

/// Returns the answers of several sheets question by question, differences first.
pub(crate) fn side_by_side(sheets: &[&ScoreSheet]) -> Vec<Beside> {
    let all: Vec<Vec<AgreedCall>> = sheets.iter().map(|sheet| calls_of(sheet)).collect();
    let mut rows: Vec<Beside> = Vec::new();
    for call in all.iter().flatten() {
        if rows.iter().any(|row| row.asks == call.asks) {
            continue;
        }
        let answers =
            all.iter().map(|calls| answer(calls, &call.asks).map(str::to_owned)).collect();
        rows.push(Beside { asks: call.asks.clone(), label: call.label.clone(), answers });
    }
    rows.sort_by_key(|row| !row.differs());
    rows
}

/// Returns which agreed calls come out otherwise on a sheet.
pub fn changes(agreed: &[AgreedCall], sheet: &ScoreSheet) -> Vec<Changed> {
    let now = calls_of(sheet);
    let before = agreed.iter().map(|call| Changed {
        asks: call.asks.clone(),
        label: call.label.clone(),
        agreed: Some(call.answer.clone()),
        now: answer(&now, &call.asks).map(str::to_owned),
    });
    let new = now.iter().filter(|call| answer(agreed, &call.asks).is_none()).map(|call| Changed {
        asks: call.asks.clone(),
        label: call.label.clone(),
        agreed: None,
        now: Some(call.answer.clone()),
    });
    before.chain(new).filter(|change| change.agreed != change.now).collect()
}

pub(crate) fn answer<'a>(calls: &'a [AgreedCall], asks: &str) -> Option<&'a str> {
    calls.iter().find(|call| call.asks == asks).map(|call| call.answer.as_str())
}

fn call(asks: String, label: &str, answer: &str) -> AgreedCall {
    AgreedCall { asks, label: label.to_owned(), answer: answer.to_owned() }
}

/// Names what is asked of an element; a rule's own name often begins with the element's.
fn of_element(element: &str, asked: &str) -> String {
    let names_it = asked
        .strip_prefix(element)
        .is_some_and(|rest| !rest.starts_with(|next: char| next.is_alphanumeric()));
    if names_it { asked.to_owned() } else { format!("{element}, {asked}") }
}

fn word(status: Status) -> &'static str {
    match status {
        Status::Met | Status::Taken => "met",
        Status::Missed => "missed",
        Status::Close => "close",
        Status::NotCounted => "not counted",
    }
}
