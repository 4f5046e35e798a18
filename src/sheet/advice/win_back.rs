//! The smallest changes that would win something back, each tried for real.

use crate::{
    marks::{Id, Sheaf, What},
    rulebook::Book,
    sheet::{
        model::{Decision, ElementLine, Line, Status, WinBack},
        score::{evaluation::Tally, sheet::plain},
    },
    units::Points,
};

use super::{changes, skills::Skills, suggestions::Suggestions};

/// No more changes than this are tried for one thing that is missing or costs.
pub(crate) const TRIED: usize = 12;
/// What every change says: the program does not judge what an athlete is ready for.
pub(crate) const READINESS: &str = "a coach decides readiness";

/// Returns the changes that raise the start value or the score, the smaller kinds first: reach an
/// angle, leave out a swing, replace what is not allowed, add what is missing.
pub(crate) fn win_back(
    book: &Book,
    sheaf: &Sheaf,
    shown: &Tally,
    skills: Option<&Skills>,
) -> Vec<WinBack> {
    let mut search = Search { book, sheaf, shown, found: Vec::new() };
    search.reach_angles();
    search.leave_out_swings();
    let suggestions = Suggestions::new(book, sheaf, shown, skills.filter(|s| s.is_of(sheaf)));
    suggestions.replace(&mut search);
    suggestions.add(&mut search);
    search.found
}

/// The search for changes, with what was found.
pub(crate) struct Search<'a> {
    /// The rules.
    pub book: &'a Book,
    /// The routine as it is.
    pub sheaf: &'a Sheaf,
    /// What it comes to.
    pub shown: &'a Tally,
    found: Vec<WinBack>,
}

/// What a change is tried for.
#[derive(Clone, Copy)]
pub(crate) enum For<'f> {
    /// Whatever it brings.
    Anything,
    /// One more value part of the class.
    Part(&'f str),
    /// The requirement of that id.
    Requirement(&'f str),
}

impl For<'_> {
    fn is_won(self, shown: &Tally, changed: &Tally) -> bool {
        match self {
            Self::Anything => true,
            Self::Part(class) => {
                let shown_of = |tally: &Tally| {
                    tally
                        .value_parts
                        .iter()
                        .filter(|p| p.class == class)
                        .map(|p| p.shown)
                        .sum::<u32>()
                };
                shown_of(changed) > shown_of(shown)
            }
            Self::Requirement(id) => {
                let missing = |tally: &Tally| {
                    tally.requirements.iter().find(|line| line.id == id).map(|line| line.amount)
                };
                missing(changed) < missing(shown)
            }
        }
    }
}

impl Search<'_> {
    /// Scores the changed routine and keeps the change if it raises something and wins what it is
    /// tried for; returns whether it does.
    pub(crate) fn tries(
        &mut self,
        changed: Sheaf,
        (change, learning): (String, bool),
        wanted: For<'_>,
    ) -> bool {
        let (tally, shown) = (plain(self.book, &changed), self.shown);
        let (was, is) = (worth(shown), worth(&tally));
        let falls = is.0 < was.0 || is.1 < was.1;
        if falls || is == was || !wanted.is_won(shown, &tally) {
            return false;
        }
        if !self.found.iter().any(|known| known.change == change) {
            self.found.push(WinBack {
                change,
                wins: wins(shown, &tally),
                learning,
                start_value: tally.start_value,
                score: tally.counted(),
                changed: Box::new(changed),
            });
        }
        true
    }

    /// Tries what it would bring if the angles that an element missed were reached.
    fn reach_angles(&mut self) {
        let missed = |line: &&ElementLine| line.decisions.iter().any(is_missed);
        for line in self.shown.elements.iter().filter(missed).take(TRIED) {
            let missed: Vec<&Decision> = line.decisions.iter().filter(|d| is_missed(d)).collect();
            let mut raised = false;
            for decision in &missed {
                raised |= self.reach(line, &[decision]);
            }
            if !raised && missed.len() > 1 {
                self.reach(line, &missed);
            }
        }
    }

    fn reach(&mut self, line: &ElementLine, decisions: &[&Decision]) -> bool {
        let mut changed = self.sheaf.clone();
        let asked: Vec<String> = decisions
            .iter()
            .map(|decision| {
                changes::reached(&mut changed, line.mark, &decision.rule);
                let rule = self.book.angles.iter().find(|rule| rule.id == decision.rule);
                let side = rule.map_or("", |rule| rule.side.words());
                let target = decision.quantity.write(decision.target);
                format!("\"{}\", {side} {target}", decision.label)
            })
            .collect();
        let what = format!("{}: reach {}; {READINESS}.", line.label, asked.join(" and "));
        self.tries(changed, (what, false), For::Anything)
    }

    /// Tries what it would bring to leave out the extra swings after an element.
    fn leave_out_swings(&mut self) {
        let mut by_reason: Vec<(&Line, Vec<Id>)> = Vec::new();
        for line in self.shown.deductions.iter().filter(|line| line.status == Status::Taken) {
            let Some(mark) = line.mark.and_then(|id| self.sheaf.mark(id)) else { continue };
            if mark.what != What::Swing {
                continue;
            }
            match by_reason.iter_mut().find(|(known, _)| known.reason == line.reason) {
                Some((_, ids)) if ids.contains(&mark.id) => {}
                Some((_, ids)) => ids.push(mark.id),
                None => by_reason.push((line, vec![mark.id])),
            }
        }
        for (line, ids) in by_reason.into_iter().take(TRIED) {
            let mut changed = self.sheaf.clone();
            for id in &ids {
                changes::left_out(&mut changed, *id);
            }
            let all = if ids.len() > 1 { format!(", all {}", ids.len()) } else { String::new() };
            let why = line.reason.trim_end_matches('.');
            let what = format!("Leave out \"{}\"{all}. {why}; {READINESS}.", line.label);
            self.tries(changed, (what, false), For::Anything);
        }
    }
}

fn is_missed(decision: &Decision) -> bool {
    decision.status == Some(Status::Missed)
}

/// Returns what a change may not lower: start value and score, nothing where void.
fn worth(tally: &Tally) -> (Points, Option<Points>) {
    (tally.start_value, tally.counted())
}

/// Returns what the changed routine has that the one shown has not.
fn wins(shown: &Tally, changed: &Tally) -> Vec<String> {
    let mut wins = Vec::new();
    for (was, is) in shown.requirements.iter().zip(&changed.requirements) {
        if is.amount < was.amount {
            wins.push(is.label.clone());
        }
    }
    for (was, is) in shown.value_parts.iter().zip(&changed.value_parts) {
        if is.shown > was.shown {
            wins.push(format!("value part, {}", is.label));
        }
    }
    let left = |tally: &Tally, line: &Line| -> Points {
        let same = tally.deductions.iter().filter(|o| o.rule == line.rule && o.mark == line.mark);
        same.map(|line| line.amount).sum()
    };
    for line in &shown.deductions {
        let name = format!("no {}", line.label);
        if left(changed, line) < left(shown, line) && !wins.contains(&name) {
            wins.push(name);
        }
    }
    wins
}
