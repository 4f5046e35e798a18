//! What of a routine can be searched for.

use std::collections::BTreeMap;

use crate::{
    marks::{Id, Quantity, Sheaf, What},
    sheet::{ScoreRange, ScoreSheet, Status},
};

/// One routine as the index keeps it.
#[derive(Debug, Default)]
pub(crate) struct Entry {
    /// Element ids with their labels.
    pub elements: Vec<(String, String)>,
    /// Kinds of marks, once each, as [`moment`] names them.
    pub moments: Vec<&'static str>,
    /// What was measured or stated: element id, label, quantity, value.
    pub readings: Vec<(String, String, Quantity, f64)>,
    /// Requirements: id, label, `met`, `missed` or `close`.
    pub requirements: Vec<(String, String, &'static str)>,
    /// What was taken off: rule, label, thousandths.
    pub faults: Vec<(String, String, i64)>,
    /// Score in thousandths; nothing when void or not scored.
    pub score: Option<i64>,
    /// Lowest and highest score that the close calls leave open; nothing where there is no score.
    pub range: Option<ScoreRange>,
    /// Whether it is void.
    pub void: bool,
    /// How many close calls.
    pub close: usize,
    /// Everything that can be found by words.
    pub words: String,
}

/// Returns what can be searched for of marks and, where the book is at hand, their sheet.
pub(crate) fn entry(sheaf: &Sheaf, sheet: Option<&ScoreSheet>) -> Entry {
    let lines = sheet.iter().flat_map(|sheet| sheet.elements.iter().rev());
    let labels: Labels<'_> = lines.map(|line| (line.mark, line.label.as_str())).collect();
    let mut entry = Entry { elements: elements(sheaf, &labels), ..Entry::default() };
    entry.moments = sheaf.marks.iter().filter_map(|mark| moment(&mark.what)).collect();
    entry.moments.sort_unstable();
    entry.moments.dedup();
    entry.readings = readings(sheaf, &labels);
    if let Some(sheet) = sheet {
        entry.requirements = sheet
            .requirements
            .iter()
            .map(|one| (one.id.clone(), one.label.clone(), word(one.status)))
            .collect();
        entry.faults = sheet
            .deductions
            .iter()
            .filter(|line| line.amount.0 > 0)
            .map(|line| (line.rule.clone(), line.label.clone(), line.amount.0))
            .collect();
        entry.score = sheet.score.map(|score| score.0);
        entry.range = sheet.score.map(|_| sheet.score_range);
        entry.void = sheet.void;
        entry.close = close_calls(sheet);
    }
    entry.words = words(sheaf, &entry);
    entry
}

/// Returns the word by which a kind of mark is searched for; an element and a fault have names of
/// their own.
pub(crate) fn moment(what: &What) -> Option<&'static str> {
    Some(match what {
        What::Swing => "swing",
        What::HandContact { .. } => "hand-contact",
        What::HandRelease => "hand-release",
        What::HeelLift => "heel-lift",
        What::HeelDrop => "heel-drop",
        What::Contact(_) => "contact",
        What::Landing { .. } => "landing",
        What::Fall => "fall",
        What::Spot => "spot",
        What::Stop => "stop",
        What::Element { .. } | What::Fault { .. } | What::Note => return None,
    })
}

/// Every word that [`moment`] returns.
pub(crate) const MOMENTS: [&str; 10] = [
    "swing",
    "hand-contact",
    "hand-release",
    "heel-lift",
    "heel-drop",
    "contact",
    "landing",
    "fall",
    "spot",
    "stop",
];

fn elements(sheaf: &Sheaf, labels: &Labels<'_>) -> Vec<(String, String)> {
    let ids = sheaf.marks.iter().filter_map(|mark| match &mark.what {
        What::Element { element } => Some((element.clone(), label(labels, mark.id, element))),
        _ => None,
    });
    let mut elements: Vec<(String, String)> = ids.collect();
    elements.sort();
    elements.dedup();
    elements
}

fn readings(sheaf: &Sheaf, labels: &Labels<'_>) -> Vec<(String, String, Quantity, f64)> {
    let marks: BTreeMap<Id, &What> =
        sheaf.marks.iter().rev().map(|mark| (mark.id, &mark.what)).collect();
    let of = |reading: &crate::marks::Reading| {
        let element = match marks.get(&reading.of) {
            Some(What::Element { element }) => element.clone(),
            _ => String::new(),
        };
        let label = label(labels, reading.of, &element);
        (element, label, reading.quantity, reading.value.0)
    };
    sheaf.readings.iter().map(of).collect()
}

/// What the sheet calls the element of each mark.
type Labels<'a> = BTreeMap<Id, &'a str>;

fn label(labels: &Labels<'_>, mark: Id, element: &str) -> String {
    (*labels.get(&mark).unwrap_or(&element)).to_owned()
}

/// Returns how many things on the sheet the evidence leaves open.
fn close_calls(sheet: &ScoreSheet) -> usize {
    let decisions = sheet.elements.iter().flat_map(|line| &line.decisions);
    let decisions = decisions.filter(|decision| decision.status == Some(Status::Close)).count();
    let lines = sheet.deductions.iter().chain(&sheet.void_reasons).map(|line| line.status);
    let others = sheet.requirements.iter().map(|one| one.status).chain(lines);
    decisions + others.filter(|status| *status == Status::Close).count()
}

fn word(status: Status) -> &'static str {
    match status {
        Status::Met => "met",
        Status::Close => "close",
        _ => "missed",
    }
}

fn words(sheaf: &Sheaf, entry: &Entry) -> String {
    let mut words: Vec<&str> = Vec::new();
    for (id, label) in &entry.elements {
        words.extend([id.as_str(), label.as_str()]);
    }
    words.extend(entry.faults.iter().map(|(_, label, _)| label.as_str()));
    words.extend(entry.requirements.iter().map(|(_, label, _)| label.as_str()));
    words.extend(sheaf.marks.iter().map(|mark| mark.note.as_str()));
    words.extend(entry.moments.iter());
    let routine = &sheaf.routine;
    words.extend([
        routine.event.as_str(),
        routine.division.as_str(),
        routine.athlete.as_str(),
        routine.judge.as_str(),
    ]);
    words.join("\n")
}
