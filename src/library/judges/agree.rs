//! What several judges saw side by side, and what came out as the reference.

use std::collections::BTreeMap;

use crate::{
    library::consent::sidecar::AgreedCall,
    marks::Id,
    sheet::{FrameAt, ScoreSheet, Status, start_words},
    units::Points,
};

/// One question with the answers of several sheets.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// What is asked, as in `AgreedCall::asks`.
    pub asks: String,
    /// The same in the book's words.
    pub label: String,
    /// The answer of each sheet, in their order; nothing where a sheet does not ask.
    pub answers: Vec<Option<String>>,
    /// What each answer stands on.
    pub evidence: Vec<Evidence>,
}

/// What an answer stands on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Evidence {
    /// The frames that it leads to.
    pub frames: Vec<FrameAt>,
    /// The marks that brought it about.
    pub marks: Vec<Id>,
}

/// An answer with what it stands on.
struct Answered {
    call: AgreedCall,
    on: Evidence,
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
    answers_of(sheet).into_iter().map(|answered| answered.call).collect()
}

fn answers_of(sheet: &ScoreSheet) -> Vec<Answered> {
    let reasons = sheet.void_reasons.iter();
    let void = Evidence {
        frames: reasons.clone().flat_map(|line| line.frames.iter().copied()).collect(),
        marks: reasons.filter_map(|line| line.mark).collect(),
    };
    let nothing = Evidence::default;
    let mut calls = vec![
        answered("void".to_owned(), "Void", if sheet.void { "yes" } else { "no" }, void),
        answered(
            "start value".to_owned(),
            "Start value",
            &start_words(sheet.start_value),
            nothing(),
        ),
        answered("score".to_owned(), "Score", &sheet.score_words(), nothing()),
    ];
    for one in &sheet.requirements {
        let on = Evidence { frames: one.frames.clone(), marks: one.marks.clone() };
        calls.push(answered(format!("requirement {}", one.id), &one.label, word(one.status), on));
    }
    let mut turns: BTreeMap<&str, usize> = BTreeMap::new();
    for line in &sheet.elements {
        let turn = turns.entry(&line.element).or_default();
        *turn += 1;
        let name = format!("{} {turn}", line.element);
        let on = |frames: &[FrameAt]| Evidence { frames: frames.to_vec(), marks: vec![line.mark] };
        let value = format!("value of {name}");
        calls.push(answered(value, &line.label, word(line.status), on(&line.frames)));
        for decision in &line.decisions {
            let answer = decision.status.map_or("open", word);
            let label = of_element(&line.label, &decision.label);
            let asks = format!("{} at {name}", decision.rule);
            calls.push(answered(asks, &label, answer, on(&decision.frames)));
        }
    }
    calls.extend(taken(sheet));
    calls
}

/// Returns what was taken off, summed up by rule.
fn taken(sheet: &ScoreSheet) -> Vec<Answered> {
    let mut sums: BTreeMap<&str, (&str, Points, Evidence)> = BTreeMap::new();
    for line in sheet.deductions.iter().filter(|line| line.status != Status::NotCounted) {
        let new = || (&*line.label, Points::ZERO, Evidence::default());
        let (_, sum, on) = sums.entry(&line.rule).or_insert_with(new);
        *sum += line.amount;
        on.frames.extend(&line.frames);
        on.marks.extend(line.mark);
    }
    let lines = sums.into_iter();
    lines
        .map(|(rule, (label, sum, on))| {
            answered(format!("taken for {rule}"), label, &sum.to_string(), on)
        })
        .collect()
}

/// Returns the answers of several sheets question by question, differences first.
pub(crate) fn side_by_side(sheets: &[&ScoreSheet]) -> Vec<Beside> {
    let all: Vec<Vec<Answered>> = sheets.iter().map(|sheet| answers_of(sheet)).collect();
    let mut rows: Vec<Beside> = Vec::new();
    for Answered { call, .. } in all.iter().flatten() {
        if rows.iter().any(|row| row.asks == call.asks) {
            continue;
        }
        let found = |answers: &'_ Vec<Answered>| {
            let found = answers.iter().find(|answered| answered.call.asks == call.asks);
            found.map(|it| (it.call.answer.clone(), it.on.clone())).unzip()
        };
        let (answers, evidence): (_, Vec<Option<Evidence>>) = all.iter().map(found).unzip();
        let evidence = evidence.into_iter().map(Option::unwrap_or_default).collect();
        let (asks, label) = (call.asks.clone(), call.label.clone());
        rows.push(Beside { asks, label, answers, evidence });
    }
    rows.sort_by_key(|row| !row.differs());
    rows
}

/// Returns what a sheet answers to these questions, and what each answer stands on.
pub(super) fn answers_to(
    rows: &[Beside],
    sheet: &ScoreSheet,
) -> (Vec<Option<String>>, Vec<Evidence>) {
    let all = answers_of(sheet);
    let found = rows.iter().map(|row| {
        let found = all.iter().find(|answered| answered.call.asks == row.asks);
        let on = found.map(|answered| answered.on.clone()).unwrap_or_default();
        (found.map(|answered| answered.call.answer.clone()), on)
    });
    found.unzip()
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

fn answered(asks: String, label: &str, answer: &str, on: Evidence) -> Answered {
    let call = AgreedCall { asks, label: label.to_owned(), answer: answer.to_owned() };
    Answered { call, on }
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
