//! The lines of the paper, made of the marks and the score sheet.

use std::collections::BTreeMap;

use crate::{
    marks::{Call, Id, Mark, Reading, Sheaf, What},
    sheet::{Decision, ElementLine, FrameAt, Line as SheetLine, ScoreSheet, Status},
    units::Points,
    window::words,
};

/// What is written on the paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paper {
    /// The routine in order.
    pub routine: Block,
    /// What it comes to: value parts, requirements, deductions and the rest, empty ones left out.
    pub blocks: Vec<Block>,
}

/// Lines under one heading.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Block {
    /// Heading.
    pub title: &'static str,
    /// What stands at the right of the heading.
    pub total: String,
    /// The lines.
    pub lines: Vec<Line>,
}

/// One line of the paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What the line is about.
    pub key: Key,
    /// How deep it hangs; 0 for elements and for every line of the sheet.
    pub depth: u8,
    /// How it was settled, by shape and by word.
    pub sign: Sign,
    /// What it says.
    pub text: String,
    /// What is said beside it, smaller.
    pub aside: String,
    /// Class or amount, at the right edge.
    pub right: String,
    /// The frame it leads to.
    pub frame: Option<u64>,
}

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Key {
    /// A mark, reading or call, which can be changed.
    Item(Id),
    /// What a rule still waits for at an element: the element and the place in its decisions.
    Waiting(Id, usize),
    /// A line of the sheet: block and place in it.
    Sheet(usize, usize),
}

/// How something was settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sign {
    /// Nothing to settle.
    Plain,
    /// Met, or it counts.
    Met,
    /// Missed.
    Missed,
    /// Left open.
    Open,
    /// Taken off.
    Taken,
    /// Seen but not counted.
    NotCounted,
    /// A rule waits for it.
    Waiting,
}

impl Sign {
    /// Returns the shape.
    pub const fn shape(self) -> &'static str {
        match self {
            Self::Plain => "·",
            Self::Met => "✓",
            Self::Missed => "✗",
            Self::Open => "≈",
            Self::Taken => "−",
            Self::NotCounted => "○",
            Self::Waiting => "…",
        }
    }

    /// Returns the word that goes with the shape.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Plain => "",
            Self::Met => "met",
            Self::Missed => "missed",
            Self::Open => "close call",
            Self::Taken => "taken off",
            Self::NotCounted => "not counted",
            Self::Waiting => "waiting",
        }
    }
}

impl From<Status> for Sign {
    fn from(status: Status) -> Self {
        match status {
            Status::Met => Self::Met,
            Status::Missed => Self::Missed,
            Status::Close => Self::Open,
            Status::Taken => Self::Taken,
            Status::NotCounted => Self::NotCounted,
        }
    }
}

impl Paper {
    /// Returns the paper of a routine; `name` gives what a mark is called in the book's words.
    pub fn of(sheaf: &Sheaf, sheet: &ScoreSheet, name: impl Fn(&What) -> String) -> Self {
        let writer = Writer { sheaf, sheet, name: &name, costs: costs(sheet) };
        let routine = Block { title: "Routine", lines: writer.routine(), ..Block::default() };
        Self { routine, blocks: blocks(sheet) }
    }

    /// Returns the lines of the routine that can be chosen, from top to bottom.
    pub fn keys(&self) -> impl Iterator<Item = Key> {
        self.routine.lines.iter().map(|line| line.key)
    }

    /// Returns the line about `key`.
    pub fn line(&self, key: Key) -> Option<&Line> {
        let lines = self.blocks.iter().flat_map(|block| &block.lines);
        self.routine.lines.iter().chain(lines).find(|line| line.key == key)
    }
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

/// Block number of what the sheet recognised; after those of `blocks`.
pub const RECOGNISED: usize = 6;

struct Writer<'a> {
    sheaf: &'a Sheaf,
    sheet: &'a ScoreSheet,
    name: &'a dyn Fn(&What) -> String,
    costs: BTreeMap<Id, (Points, Status)>,
}

impl Writer<'_> {
    fn routine(&self) -> Vec<Line> {
        let mut lines = self.recognised();
        let under = u8::from(!lines.is_empty());
        for (head, hanging) in groups(self.sheaf) {
            lines.extend(head.map(|mark| self.element(mark)));
            if let Some(element) = head {
                lines.extend(self.decisions(element));
            }
            let depth = u8::from(head.is_some()).max(under);
            lines.extend(hanging.into_iter().map(|mark| self.mark(mark, depth)));
        }
        lines
    }

    /// What the sheet recognised by its moments alone, without a mark that names it: a vault.
    fn recognised(&self) -> Vec<Line> {
        let named = |id| {
            let mark = self.sheaf.mark(id);
            mark.is_some_and(|mark| matches!(mark.what, What::Element { .. }))
        };
        let elements = self.sheet.elements.iter().enumerate();
        let recognised = elements.filter(|(_, element)| !named(element.mark));
        recognised
            .map(|(place, element)| Line {
                key: Key::Sheet(RECOGNISED, place),
                depth: 0,
                sign: element.status.into(),
                text: element.label.clone(),
                aside: element.reason.clone(),
                right: element.class.clone(),
                frame: first(&element.frames),
            })
            .collect()
    }

    fn scored(&self, id: Id) -> Option<&ElementLine> {
        self.sheet.elements.iter().find(|line| line.mark == id)
    }

    fn element(&self, mark: &Mark) -> Line {
        let Some(scored) = self.scored(mark.id) else { return self.mark(mark, 0) };
        let serves: Vec<&str> = scored.serves.iter().map(|id| self.requirement(id)).collect();
        let serves = match (scored.status, serves.is_empty()) {
            (_, false) => format!("serves {}", serves.join(", ")),
            (Status::Met, true) => String::new(),
            (_, true) => scored.reason.clone(),
        };
        Line {
            key: Key::Item(mark.id),
            depth: 0,
            sign: scored.status.into(),
            text: scored.label.clone(),
            aside: joined(&[&serves, words::seen(mark.seen), &mark.note]),
            right: scored.class.clone(),
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
            what => ((self.name)(what), mark.note.as_str()),
        };
        let cost = self.costs.get(&mark.id);
        Line {
            key: Key::Item(mark.id),
            depth,
            sign: cost.map_or(Sign::Plain, |(_, status)| (*status).into()),
            text,
            aside: joined(&[words::seen(mark.seen), note]),
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
        let stray_readings = self.sheaf.readings.iter().filter(|reading| reading.of == element.id);
        lines.extend(stray_readings.map(reading_line).filter(|line| !written.contains(&line.key)));
        let stray_calls = self.sheaf.calls.iter().filter(|call| call.of == element.id);
        lines.extend(stray_calls.map(call_line).filter(|line| !written.contains(&line.key)));
        lines
    }

    fn decision(&self, element: &Mark, place: usize, decision: &Decision) -> Vec<Line> {
        let call = self
            .sheaf
            .calls
            .iter()
            .rev()
            .find(|call| call.of == element.id && call.asks == decision.rule);
        let reading = self
            .sheaf
            .readings
            .iter()
            .rev()
            .find(|reading| reading.of == element.id && reading.quantity == decision.quantity);
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
    // The uncertainty is in the sentence that the sheet says about it, as an interval.
    let right = reading.value.to_string().replace('-', "−");
    Line {
        key: Key::Item(reading.id),
        depth: 1,
        sign: Sign::Plain,
        text: words::quantity(reading.quantity).to_owned(),
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
    let is_element = |mark: &&Mark| matches!(mark.what, What::Element { .. });
    groups.extend(marks.iter().copied().filter(is_element).map(|mark| (Some(mark), Vec::new())));
    for mark in marks.into_iter().filter(|mark| !is_element(mark)) {
        let owner =
            groups.iter().position(|(head, _)| head.is_some_and(|head| mark.of == Some(head.id)));
        let before = groups
            .iter()
            .rposition(|(head, _)| head.is_none_or(|head| head.at.order() <= mark.at.order()));
        if let Some(place) = owner.or(before) {
            groups[place].1.push(mark);
        }
    }
    groups
}

fn blocks(sheet: &ScoreSheet) -> Vec<Block> {
    let from_lines = |title, lines: &[SheetLine], at| Block {
        title,
        total: String::new(),
        lines: lines.iter().enumerate().map(|(i, line)| sheet_line(line, at, i)).collect(),
    };
    let taken: Points =
        sheet.deductions.iter().filter(|line| taken_off(line)).map(|line| line.amount).sum();
    let deductions = Block {
        total: if taken == Points::ZERO { String::new() } else { off(taken) },
        ..from_lines("Deductions", &sheet.deductions, 3)
    };
    let blocks = [
        from_lines(if sheet.void { "Void" } else { "May be void" }, &sheet.void_reasons, 0),
        value_parts(sheet),
        requirements(sheet),
        deductions,
        win_back(sheet),
        from_lines("To look at", &sheet.remarks, 5),
    ];
    blocks.into_iter().filter(|block| !block.lines.is_empty()).collect()
}

const fn taken_off(line: &SheetLine) -> bool {
    matches!(line.status, Status::Taken | Status::Missed)
}

fn sheet_line(line: &SheetLine, block: usize, place: usize) -> Line {
    Line {
        key: Key::Sheet(block, place),
        depth: 0,
        sign: line.status.into(),
        text: line.label.clone(),
        aside: line.reason.clone(),
        right: if line.amount == Points::ZERO { String::new() } else { off(line.amount) },
        frame: first(&line.frames),
    }
}

fn value_parts(sheet: &ScoreSheet) -> Block {
    let line = |(place, part): (usize, &crate::sheet::ValuePart)| Line {
        key: Key::Sheet(1, place),
        depth: 0,
        sign: part.status.into(),
        text: format!("{}: {} of {}", part.label, part.shown, part.asked),
        aside: if part.status == Status::Met { String::new() } else { part.reason.clone() },
        right: if part.amount == Points::ZERO { String::new() } else { off(part.amount) },
        frame: None,
    };
    Block {
        title: "Value parts",
        total: String::new(),
        lines: sheet.value_parts.iter().enumerate().map(line).collect(),
    }
}

fn requirements(sheet: &ScoreSheet) -> Block {
    let line = |(place, requirement): (usize, &crate::sheet::Requirement)| Line {
        key: Key::Sheet(2, place),
        depth: 0,
        sign: requirement.status.into(),
        text: requirement.label.clone(),
        aside: if requirement.status == Status::Met {
            String::new()
        } else {
            requirement.reason.clone()
        },
        right: if requirement.amount == Points::ZERO {
            String::new()
        } else {
            off(requirement.amount)
        },
        frame: first(&requirement.frames),
    };
    Block {
        title: "Requirements",
        total: String::new(),
        lines: sheet.requirements.iter().enumerate().map(line).collect(),
    }
}

fn win_back(sheet: &ScoreSheet) -> Block {
    let line = |(place, win): (usize, &crate::sheet::WinBack)| Line {
        key: Key::Sheet(4, place),
        depth: 0,
        sign: Sign::Plain,
        text: win.change.clone(),
        aside: String::new(),
        right: win.start_value.to_string(),
        frame: None,
    };
    Block {
        title: "To win it back",
        total: if sheet.win_back.is_empty() { String::new() } else { "start value".to_owned() },
        lines: sheet.win_back.iter().enumerate().map(line).collect(),
    }
}

/// Writes an amount that is taken off.
pub fn off(amount: Points) -> String {
    format!("−{amount}")
}

fn first(frames: &[FrameAt]) -> Option<u64> {
    frames.first().map(|frame| frame.frame)
}

fn frame_of(mark: &Mark) -> Option<u64> {
    mark.at.frame().map(|frame| frame.index)
}

fn joined(parts: &[&str]) -> String {
    parts.iter().filter(|part| !part.is_empty()).copied().collect::<Vec<_>>().join(" · ")
}
