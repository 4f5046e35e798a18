//! The lines of the routine itself: each element with what hangs under it.

use std::collections::{BTreeMap, BTreeSet};

use super::{
    blocks::{DEDUCTIONS, is_missing_moment, sheet_line},
    line::{Key, Line, Names, RECOGNISED, Sign, first, off},
};
use crate::{
    geometry::HALF_WIDTH,
    marks::{Call, Id, Mark, Reading, Sheaf, What},
    sheet::{Decision, ElementLine, Line as SheetLine, ScoreSheet, Status},
    units::{FrameIndex, Magnitude, Points},
    window::words,
};

/// Returns the lines of the routine in order.
pub(super) fn lines(sheaf: &Sheaf, sheet: &ScoreSheet, names: Names<'_>) -> Vec<Line> {
    let mut writer = Writer {
        sheaf,
        sheet,
        names,
        costs: costs(sheet),
        scored: sheet.elements.iter().map(|line| (line.mark, line)).collect(),
        under: under_elements(sheet),
        readings: BTreeMap::new(),
        calls: BTreeMap::new(),
    };
    for reading in &sheaf.readings {
        writer.readings.entry(reading.of).or_default().push(reading);
    }
    for call in &sheaf.calls {
        writer.calls.entry(call.of).or_default().push(call);
    }
    writer.routine()
}

fn is_element(mark: &Mark) -> bool {
    matches!(mark.what, What::Element { .. })
}

/// What each mark costs, and how that was settled.
fn costs(sheet: &ScoreSheet) -> BTreeMap<Id, (Points, Status)> {
    let mut costs: BTreeMap<Id, (Points, Status)> = BTreeMap::new();
    for line in sheet.deductions.iter().chain(&sheet.void_reasons) {
        if let Some(mark) = line.mark {
            let cost = costs.entry(mark).or_insert((Points::ZERO, line.status));
            cost.0 += line.amount;
        }
    }
    costs
}

/// What the sheet says of elements beside their decisions, by the mark of the element, with its
/// place in its block.
fn under_elements(sheet: &ScoreSheet) -> BTreeMap<Id, Vec<(usize, &SheetLine)>> {
    let mut under: BTreeMap<Id, Vec<(usize, &SheetLine)>> = BTreeMap::new();
    let given_back = sheet.deductions.iter().enumerate().filter(|(_, line)| is_given_back(line));
    let missing = sheet.remarks.iter().enumerate().filter(|(_, line)| is_missing_moment(line));
    for (place, line) in given_back.chain(missing) {
        if let Some(mark) = line.mark {
            under.entry(mark).or_default().push((place, line));
        }
    }
    under
}

struct Writer<'a> {
    sheaf: &'a Sheaf,
    sheet: &'a ScoreSheet,
    names: Names<'a>,
    costs: BTreeMap<Id, (Points, Status)>,
    /// The sheet's elements, readings and calls by the mark that they belong to: a long routine
    /// has thousands, and is written anew after each change.
    scored: BTreeMap<Id, &'a ElementLine>,
    under: BTreeMap<Id, Vec<(usize, &'a SheetLine)>>,
    readings: BTreeMap<Id, Vec<&'a Reading>>,
    calls: BTreeMap<Id, Vec<&'a Call>>,
}

impl Writer<'_> {
    fn routine(&self) -> Vec<Line> {
        let mut lines = self.recognised();
        let under = u8::from(!lines.is_empty());
        for (head, hanging) in groups(self.sheaf) {
            lines.extend(head.map(|mark| self.element(mark)));
            if let Some(element) = head {
                lines.extend(self.decisions(element));
                lines.extend(self.under(element));
            }
            let depth = u8::from(head.is_some()).max(under);
            lines.extend(hanging.into_iter().map(|mark| self.mark(mark, depth)));
        }
        lines
    }

    /// What an element gives back by how it connects to the next one, and the moments that nobody
    /// has set yet.
    fn under(&self, element: &Mark) -> impl Iterator<Item = Line> {
        let decided = self.scored(element.id).map_or(0, |line| line.decisions.len());
        let lines = self.under.get(&element.id).into_iter().flatten();
        lines.map(move |(place, line)| {
            if is_given_back(line) {
                return Line { depth: 1, ..sheet_line(line, DEDUCTIONS, *place) };
            }
            Line {
                key: Key::Waiting(element.id, decided + place),
                depth: 1,
                sign: Sign::Waiting,
                // The sentence names its element, under which it stands here.
                text: capital(line.reason.split_once(": ").map_or(&*line.reason, |it| it.1)),
                aside: String::new(),
                right: String::new(),
                frame: frame_of(element),
            }
        })
    }

    /// What the sheet recognised by its moments alone, without a mark that names it: a vault.
    fn recognised(&self) -> Vec<Line> {
        let named = self.sheaf.marks.iter().filter(|mark| is_element(mark));
        let named: BTreeSet<Id> = named.map(|mark| mark.id).collect();
        let elements = self.sheet.elements.iter().enumerate();
        // The sheet may lag behind the marks, one of which is gone.
        let recognised = elements.filter(|(_, element)| {
            !named.contains(&element.mark) && self.sheaf.mark(element.mark).is_some()
        });
        recognised
            .map(|(place, element)| Line {
                key: Key::Sheet(RECOGNISED, place),
                depth: 0,
                sign: element.status.into(),
                text: element.label.clone(),
                aside: element.reason.clone(),
                right: (self.names.class)(&element.class),
                frame: first(&element.frames),
            })
            .collect()
    }

    fn scored(&self, id: Id) -> Option<&ElementLine> {
        self.scored.get(&id).copied()
    }

    fn element(&self, mark: &Mark) -> Line {
        let Some(scored) = self.scored(mark.id) else { return self.mark(mark, 0) };
        let why = if scored.status == Status::Met { "" } else { &scored.reason };
        let serves: Vec<&str> = scored.serves.iter().map(|id| self.requirement(id)).collect();
        let serves = match &serves[..] {
            [] => String::new(),
            all => format!("serves {}", all.join(", ")),
        };
        Line {
            key: Key::Item(mark.id),
            depth: 0,
            sign: scored.status.into(),
            text: scored.label.clone(),
            aside: joined(&[why, &serves, mark.seen.words(), &mark.note]),
            right: (self.names.class)(&scored.class),
            frame: frame_of(mark),
        }
    }

    fn requirement<'a>(&'a self, id: &'a str) -> &'a str {
        let known = self.sheet.requirements.iter().find(|requirement| requirement.id == id);
        known.map_or(id, |requirement| requirement.label.as_str())
    }

    fn mark(&self, mark: &Mark, depth: u8) -> Line {
        let (text, note) = match &mark.what {
            What::Note => (mark.note.clone(), "remark"),
            what => ((self.names.mark)(what), mark.note.as_str()),
        };
        let cost = self.costs.get(&mark.id);
        Line {
            key: Key::Item(mark.id),
            depth,
            sign: cost.map_or(Sign::Plain, |(_, status)| (*status).into()),
            text,
            aside: joined(&[mark.seen.words(), note]),
            right: cost.map(|(amount, _)| off(*amount)).unwrap_or_default(),
            frame: frame_of(mark),
        }
    }

    /// The answers to what the rules ask of an element, and what they still wait for.
    fn decisions(&self, element: &Mark) -> Vec<Line> {
        let decisions = self.scored(element.id).map_or(&[][..], |line| &line.decisions);
        let mut lines: Vec<Line> = decisions
            .iter()
            .enumerate()
            .flat_map(|(place, decision)| self.decision(element, place, decision))
            .collect();
        let written: Vec<Key> = lines.iter().map(|line| line.key).collect();
        let readings = self.readings_of(element.id).map(reading_line);
        lines.extend(readings.filter(|line| !written.contains(&line.key)));
        let calls = self.calls_of(element.id).map(call_line);
        lines.extend(calls.filter(|line| !written.contains(&line.key)));
        lines
    }

    fn readings_of(&self, id: Id) -> impl DoubleEndedIterator<Item = &Reading> {
        self.readings.get(&id).into_iter().flatten().copied()
    }

    fn calls_of(&self, id: Id) -> impl DoubleEndedIterator<Item = &Call> {
        self.calls.get(&id).into_iter().flatten().copied()
    }

    fn decision(&self, element: &Mark, place: usize, decision: &Decision) -> Vec<Line> {
        let call = self.calls_of(element.id).rev().find(|call| call.asks == decision.rule);
        let reading =
            self.readings_of(element.id).rev().find(|it| it.quantity == decision.quantity);
        let sign = decision.status.map_or(Sign::Waiting, Sign::from);
        let mut lines = Vec::new();
        if let Some(call) = call {
            lines.push(Line {
                sign,
                text: decision.label.clone(),
                aside: decision.reason.clone(),
                ..call_line(call)
            });
        }
        if let Some(reading) = reading {
            let decides = if call.is_some() { Sign::Plain } else { sign };
            lines.push(Line {
                sign: decides,
                text: decision.label.clone(),
                aside: decision.reason.clone(),
                ..reading_line(reading)
            });
        }
        if lines.is_empty() {
            lines.push(Line {
                key: Key::Waiting(element.id, place),
                depth: 1,
                sign,
                text: decision.label.clone(),
                aside: decision.reason.clone(),
                right: String::new(),
                frame: frame_of(element),
            });
        }
        lines
    }
}

fn call_line(call: &Call) -> Line {
    Line {
        key: Key::Item(call.id),
        depth: 1,
        sign: Sign::Plain,
        text: call.asks.clone(),
        aside: String::new(),
        right: words::answer(call.answer).to_owned(),
        frame: call.at.frame().map(|frame| frame.index),
    }
}

fn reading_line(reading: &Reading) -> Line {
    let (unit, half) = (reading.quantity.unit(), Magnitude(reading.u.0 * HALF_WIDTH));
    let right =
        if half.0 > 0.0 { unit.write_with(reading.value, half) } else { unit.write(reading.value) };
    Line {
        key: Key::Item(reading.id),
        depth: 1,
        sign: Sign::Plain,
        text: reading.quantity.full_words().to_owned(),
        aside: String::new(),
        right,
        frame: reading.at.frame().map(|frame| frame.index),
    }
}

/// Groups the marks: each element with what hangs under it; what comes before the first element
/// has none.
fn groups(sheaf: &Sheaf) -> Vec<(Option<&Mark>, Vec<&Mark>)> {
    let mut groups: Vec<(Option<&Mark>, Vec<&Mark>)> = vec![(None, Vec::new())];
    let marks = sheaf.in_order();
    let elements = marks.iter().copied().filter(|mark| is_element(mark));
    groups.extend(elements.map(|mark| (Some(mark), Vec::new())));
    let places = groups.iter().enumerate();
    let places: BTreeMap<Id, usize> =
        places.filter_map(|(place, (head, _))| Some(((*head)?.id, place))).collect();
    for mark in marks.into_iter().filter(|mark| !is_element(mark)) {
        let owner = mark.of.and_then(|id| places.get(&id).copied());
        let begun = |(head, _): &(Option<&Mark>, _)| {
            head.is_none_or(|head| head.at.order() <= mark.at.order())
        };
        let before = groups.partition_point(begun) - 1;
        groups[owner.unwrap_or(before)].1.push(mark);
    }
    groups
}

fn is_given_back(line: &SheetLine) -> bool {
    line.amount < Points::ZERO
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn frame_of(mark: &Mark) -> Option<FrameIndex> {
    mark.at.frame().map(|frame| frame.index)
}

fn joined(parts: &[&str]) -> String {
    let mut parts: Vec<&str> = parts.iter().filter(|part| !part.is_empty()).copied().collect();
    // A sentence that something follows ends with the dot between them.
    if let Some((_, before)) = parts.split_last_mut() {
        for part in before {
            *part = part.trim_end_matches('.');
        }
    }
    parts.join(" · ")
}
