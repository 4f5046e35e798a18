//! The smallest changes that would win something back, each tried for real.

use std::collections::{BTreeMap, BTreeSet};

use crate::{
    marks::{Id, Sheaf, What},
    rulebook::Book,
    sheet::{
        model::{Decision, ElementLine, Line, Status, WinBack},
        score::Tally,
    },
};

use super::{
    changes,
    search::{For, Search, TRIED},
    skills::Skills,
    suggestions::Suggestions,
};

/// Returns the changes that raise the start value or the score, the smaller kinds first: reach an
/// angle, leave out a swing, replace what is not allowed, add what is missing.
pub(crate) fn win_back(
    book: &Book,
    sheaf: &Sheaf,
    shown: &Tally,
    skills: Option<&Skills>,
) -> Vec<WinBack> {
    let mut search = Search::new(book, sheaf, shown);
    search.reach_angles();
    search.leave_out_swings();
    let suggestions = Suggestions::new(book, sheaf, shown, skills.filter(|s| s.is_of(sheaf)));
    suggestions.replace(&mut search);
    suggestions.add(&mut search);
    search.into_found()
}

impl Search<'_> {
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
        let what = format!("{}: reach {}.", line.label, asked.join(" and "));
        self.tries(changed, (what, false), For::Anything)
    }

    /// Tries what it would bring to leave out the extra swings after an element.
    fn leave_out_swings(&mut self) {
        let swings = self.sheaf.marks.iter().filter(|mark| mark.what == What::Swing);
        let swings: BTreeSet<Id> = swings.map(|mark| mark.id).collect();
        let mut by_reason: Vec<(&Line, BTreeSet<Id>)> = Vec::new();
        let mut places: BTreeMap<&str, usize> = BTreeMap::new();
        for line in self.shown.deductions.iter().filter(|line| line.status == Status::Taken) {
            let Some(mark) = line.mark.filter(|mark| swings.contains(mark)) else { continue };
            let place = *places.entry(&line.reason).or_insert(by_reason.len());
            match by_reason.get_mut(place) {
                Some((_, ids)) => {
                    ids.insert(mark);
                }
                None => by_reason.push((line, BTreeSet::from([mark]))),
            }
        }
        for (line, ids) in by_reason.into_iter().take(TRIED) {
            let mut changed = self.sheaf.clone();
            changes::left_out(&mut changed, &ids);
            let all = if ids.len() > 1 { format!(", all {}", ids.len()) } else { String::new() };
            let why = line.reason.trim_end_matches('.');
            let what = format!("Leave out \"{}\"{all}. {why}.", line.label);
            self.tries(changed, (what, false), For::Anything);
        }
    }
}

fn is_missed(decision: &Decision) -> bool {
    decision.status == Some(Status::Missed)
}
