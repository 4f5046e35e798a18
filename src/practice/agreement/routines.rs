//! From two people's marks and score sheets of one routine to what both said of the same things.

use std::collections::BTreeMap;

use crate::{
    judged::Judged,
    marks::{Id, Quantity, Seen, Sheaf, What},
    rulebook::Book,
    sheet::{Line, ScoreSheet, Status},
    units::{Points, Ticks},
};

use super::{
    compared::{Compared, ComparedUnit, DEDUCTION, ELEMENT, NOT_SEEN, SCORE, Said},
    matching::{MatchedMark, align},
    model::ScoreLine,
};

/// Seconds by which two people may put the same thing apart.
const REACH_SECONDS: f64 = 1.5;

impl Judged {
    /// Returns what tells one routine from another: the clip by its id, or where it is planned the
    /// athlete and the date, with the routine's id and event.
    pub fn routine(&self) -> String {
        let routine = &self.marked.sheaf.routine;
        let of = match &self.marked.sheaf.clip {
            Some(clip) => clip.quick_id.clone(),
            None => format!("{} {}", routine.athlete, routine.date),
        };
        format!("{of}/{}/{}", routine.id, routine.event)
    }

    /// Returns the routine in words that a person knows it by.
    pub fn title(&self) -> String {
        let routine = &self.marked.sheaf.routine;
        let parts = [&routine.athlete, &routine.event, &routine.date];
        let mut words: Vec<&str> =
            parts.into_iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
        if let Some(clip) = &self.marked.sheaf.clip {
            words.push(&clip.name);
        }
        words.join(", ")
    }
}

/// Returns what both said of the same things in one routine, and the scores beside each other.
pub fn compare(reference: &Judged, other: &Judged) -> (Vec<Compared>, ScoreLine) {
    let mut pair = Pair { reference, other, compared: Vec::new(), same: BTreeMap::new() };
    pair.marks();
    pair.elements();
    pair.requirements();
    pair.deductions();
    pair.scores();
    let line = score_line(&reference.ruled.book, reference, other);
    (pair.compared, line)
}

struct Pair<'a> {
    reference: &'a Judged,
    other: &'a Judged,
    compared: Vec<Compared>,
    /// The other's mark to the reference's that it was matched with.
    same: BTreeMap<Id, Id>,
}

impl Pair<'_> {
    fn say(&mut self, kind: &str, situation: &str, item: &str, said: Said) {
        let routine = &self.other.marked.sheaf.routine;
        self.compared.push(Compared {
            person: routine.judge.clone(),
            date: routine.date.clone(),
            item: format!("{}/{kind}/{item}", self.reference.routine()),
            kind: kind.to_owned(),
            situation: situation.to_owned(),
            said,
        });
    }

    fn words(&mut self, kind: &str, situation: &str, item: &str, said: [Option<&str>; 2]) {
        let said = match said {
            [Some(reference), Some(other)] => {
                Said::Word { reference: reference.to_owned(), other: other.to_owned() }
            }
            _ => Said::Open,
        };
        self.say(kind, situation, item, said);
    }

    fn numbers(
        &mut self,
        kind: &str,
        item: (&str, &str),
        unit: ComparedUnit,
        [reference, other]: [f64; 2],
    ) {
        self.say(kind, item.0, item.1, Said::Number { unit, reference, other });
    }

    /// Matches the marks, sort by sort, and says what was found, missed, invented and how far off.
    fn marks(&mut self) {
        let sorts: Vec<&str> = {
            let marks =
                self.reference.marked.sheaf.marks.iter().chain(&self.other.marked.sheaf.marks);
            let mut sorts: Vec<&str> = marks.filter_map(|mark| sort_of(&mark.what)).collect();
            sorts.sort_unstable();
            sorts.dedup();
            sorts
        };
        for sort in sorts {
            self.sort(sort);
        }
    }

    fn sort(&mut self, sort: &str) {
        let (ours, theirs) = (sights(self.reference, sort), sights(self.other, sort));
        let matched = align(&ours, &theirs, reach(&self.reference.marked.sheaf));
        let item = |sight: &MatchedMark| format!("{}", sight.mark.0);
        for &(i, j) in &matched.found {
            self.same.insert(theirs[j].mark, ours[i].mark);
            let name = label(self.reference, &ours[i]);
            self.words(sort, &name, &item(&ours[i]), [Some(&name), Some(&name)]);
            if let (Some(a), Some(b)) = (ours[i].at.frame(), theirs[j].at.frame()) {
                let said = [a.index.0 as f64, b.index.0 as f64];
                self.numbers("frame", (sort, &item(&ours[i])), ComparedUnit::Frames, said);
            }
        }
        for &(i, j) in &matched.renamed {
            let names = [label(self.reference, &ours[i]), label(self.other, &theirs[j])];
            self.words(sort, &names[0], &item(&ours[i]), [Some(&names[0]), Some(&names[1])]);
        }
        for &i in &matched.missed {
            let name = label(self.reference, &ours[i]);
            self.words(sort, &name, &item(&ours[i]), [Some(&name), Some(NOT_SEEN)]);
        }
        for &j in &matched.invented {
            let name = label(self.other, &theirs[j]);
            // Two people who invent something do not invent the same thing.
            let own = format!("{}+{}", self.other.marked.sheaf.routine.judge, theirs[j].mark.0);
            self.words(sort, &name, &own, [Some(NOT_SEEN), Some(&name)]);
        }
    }

    /// Compares credit, the calls on angles and the angles of elements that both have.
    fn elements(&mut self) {
        for line in &self.other.sheet.elements {
            let Some(mark) = self.same.get(&line.mark).copied() else { continue };
            let Some(ours) = self.reference.sheet.elements.iter().find(|l| l.mark == mark) else {
                continue;
            };
            let item = mark.0.to_string();
            let said = [credited(ours.status), credited(line.status)];
            self.words("credit", &ours.label, &item, said);
            for theirs in &line.decisions {
                let same = ours.decisions.iter().find(|decision| decision.rule == theirs.rule);
                if let Some((same, [a, b])) =
                    same.and_then(|same| Some((same, [same.status?, theirs.status?])))
                {
                    self.words(&same.label, &ours.label, &item, [met(a), met(b)]);
                }
            }
            for quantity in Quantity::ALL {
                if let (Some(a), Some(b)) = (
                    newest(&self.reference.marked.sheaf, mark, quantity),
                    newest(&self.other.marked.sheaf, line.mark, quantity),
                ) {
                    let unit = quantity.unit().into();
                    self.numbers(quantity.words(), (&ours.label, &item), unit, [a, b]);
                }
            }
        }
    }

    fn requirements(&mut self) {
        for ours in &self.reference.sheet.requirements {
            let theirs = &self.other.sheet.requirements;
            if let Some(theirs) = theirs.iter().find(|theirs| theirs.id == ours.id) {
                let said = [met(ours.status), met(theirs.status)];
                self.words("requirement", &ours.label, &ours.id, said);
            }
        }
    }

    /// Compares what was taken, rule by rule and element by element.
    fn deductions(&mut self) {
        let mut lines: BTreeMap<(String, u64), [Option<&Line>; 2]> = BTreeMap::new();
        for line in counting(&self.reference.sheet) {
            let mark = line.mark.map_or(0, |id| id.0);
            lines.entry((line.rule.clone(), mark)).or_default()[0] = Some(line);
        }
        for line in counting(&self.other.sheet) {
            // What the other hangs under a mark of its own matches nothing: beyond all ids.
            let mark =
                line.mark.map_or(0, |id| self.same.get(&id).map_or(u64::MAX - id.0, |same| same.0));
            lines.entry((line.rule.clone(), mark)).or_default()[1] = Some(line);
        }
        for ((rule, mark), [ours, theirs]) in lines {
            let Some(name) = ours.or(theirs).map(|line| line.label.clone()) else { continue };
            let said = [ours, theirs].map(taken);
            let own =
                if ours.is_none() { self.other.marked.sheaf.routine.judge.as_str() } else { "" };
            self.words(DEDUCTION, &name, &format!("{rule}/{mark}{own}"), said);
        }
    }

    fn scores(&mut self) {
        let event = self.reference.marked.sheaf.routine.event.clone();
        let (ours, theirs) = (&self.reference.sheet, &self.other.sheet);
        self.words("score or void", &event, "void", [voided(ours), voided(theirs)]);
        let mut both = |kind, said: [Points; 2]| {
            let said = said.map(|points| points.0 as f64 / 1000.0);
            self.numbers(kind, (&event, ""), ComparedUnit::Points, said);
        };
        if let (Some(a), Some(b)) = (ours.start_value, theirs.start_value) {
            both("start value", [a, b]);
        }
        both("deductions in all", [ours, theirs].map(deducted));
        if let (Some(a), Some(b)) = (ours.score, theirs.score) {
            both(SCORE, [a, b]);
        }
    }
}

fn score_line(book: &Book, reference: &Judged, other: &Judged) -> ScoreLine {
    let routine = &reference.marked.sheaf.routine;
    let panel = book.panel_of(&routine.event, &routine.division);
    let scores = [reference.sheet.score, other.sheet.score];
    let difference = match scores {
        [Some(reference), Some(other)] => Some(other - reference),
        _ => None,
    };
    let allowed = panel.zip(scores[0]).and_then(|(panel, score)| panel.allowed_at(score));
    ScoreLine {
        person: other.marked.sheaf.routine.judge.clone(),
        routine: reference.title(),
        reference: scores[0],
        score: scores[1],
        difference,
        allowed,
        inside: difference.zip(allowed).map(|(off, allowed)| off.0.abs() <= allowed.0),
    }
}

/// Returns the word for the sort of a mark; a remark is of no sort.
fn sort_of(what: &What) -> Option<&'static str> {
    Some(match what {
        What::Element { .. } => ELEMENT,
        What::Swing => "extra swing",
        What::HandContact { .. } => "hand contact",
        What::HandRelease => "hand release",
        What::HeelLift => "heel lift",
        What::HeelDrop => "heel drop",
        What::Contact(_) => "contact",
        What::Landing { .. } => "landing",
        What::Fall => "fall",
        What::Spot => "spot",
        What::Stop => "stop",
        What::Fault { .. } => "fault",
        What::Note => return None,
    })
}

/// Returns the marks of one sort that were seen, in order.
fn sights(judged: &Judged, sort: &str) -> Vec<MatchedMark> {
    let marks = judged.marked.sheaf.in_order().into_iter();
    let seen = marks.filter(|mark| mark.seen == Seen::Yes && sort_of(&mark.what) == Some(sort));
    seen.map(|mark| MatchedMark { mark: mark.id, key: key_of(&mark.what), at: mark.at }).collect()
}

/// Returns what two marks of one sort must share to be the same.
fn key_of(what: &What) -> String {
    match what {
        What::Element { element } => element.clone(),
        What::Fault { fault, .. } => fault.clone(),
        What::Contact(contact) => format!("{:?} {:?}", contact.part, contact.phase).to_lowercase(),
        _ => String::new(),
    }
}

fn label(judged: &Judged, sight: &MatchedMark) -> String {
    let line = judged.sheet.elements.iter().find(|line| line.mark == sight.mark);
    match (line, sight.key.as_str()) {
        (Some(line), _) => line.label.clone(),
        (None, "") => "seen".to_owned(),
        (None, key) => key.to_owned(),
    }
}

fn reach(sheaf: &Sheaf) -> Ticks {
    sheaf.clip.as_ref().map_or(Ticks(0), |clip| clip.time_base.ticks_at(REACH_SECONDS))
}

fn newest(sheaf: &Sheaf, of: Id, quantity: Quantity) -> Option<f64> {
    let readings = sheaf.readings.iter().filter(|r| r.of == of && r.quantity == quantity);
    readings.max_by_key(|reading| reading.id).map(|reading| reading.value.0)
}

fn counting(sheet: &ScoreSheet) -> impl Iterator<Item = &Line> {
    sheet.deductions.iter().filter(|line| line.status != Status::NotCounted)
}

const fn credited(status: Status) -> Option<&'static str> {
    match status {
        Status::Met => Some("credited"),
        Status::Close => None,
        _ => Some("not credited"),
    }
}

const fn met(status: Status) -> Option<&'static str> {
    match status {
        Status::Met => Some("met"),
        Status::Close => None,
        _ => Some("not met"),
    }
}

fn taken(line: Option<&Line>) -> Option<&'static str> {
    match line {
        Some(line) if line.status == Status::Close => None,
        Some(_) => Some("taken"),
        None => Some("not taken"),
    }
}

const fn voided(sheet: &ScoreSheet) -> Option<&'static str> {
    if sheet.unscored.is_some() {
        return None;
    }
    match (sheet.void, sheet.score_range.may_be_void) {
        (true, _) => Some("void"),
        (false, true) => None,
        (false, false) => Some("score"),
    }
}

fn deducted(sheet: &ScoreSheet) -> Points {
    sheet.deductions.iter().map(|line| line.amount).sum()
}
