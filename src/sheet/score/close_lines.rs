//! Which lines of the sheet are close: they come out otherwise in another world.

use std::collections::{BTreeMap, BTreeSet};

use crate::{
    marks::Id,
    sheet::model::{Line, Status},
    units::Points,
};

use super::evaluation::Tally;

/// Marks every line of the tally shown that is otherwise in one of the others.
pub(crate) fn mark(shown: &mut Tally, tallies: &[Tally]) {
    let others = &tallies[1..];
    if others.is_empty() {
        return;
    }
    elements(shown, others);
    for (at, line) in shown.value_parts.iter_mut().enumerate() {
        if others.iter().any(|other| other.value_parts[at].amount != line.amount) {
            line.status = Status::Close;
        }
    }
    for (at, line) in shown.requirements.iter_mut().enumerate() {
        if others.iter().any(|other| other.requirements[at].status != line.status) {
            line.status = Status::Close;
            line.reason = format!("{} It is a close call.", line.reason);
        }
    }
    lines(&mut shown.deductions, others, |tally| &tally.deductions);
    lines(&mut shown.void, others, |tally| &tally.void);
}

fn elements(shown: &mut Tally, others: &[Tally]) {
    for (at, line) in shown.elements.iter_mut().enumerate() {
        let same = others.iter().filter_map(|other| other.elements.get(at));
        if same.clone().any(|other| other.status != line.status) {
            line.status = Status::Close;
        }
        for (index, decision) in line.decisions.iter_mut().enumerate() {
            let differs = same
                .clone()
                .filter_map(|other| other.decisions.get(index))
                .any(|other| other.status != decision.status);
            if differs && !decision.called {
                decision.status = Some(Status::Close);
            }
        }
    }
}

/// Marks lines that are otherwise elsewhere, and adds those that stand only elsewhere.
fn lines(shown: &mut Vec<Line>, others: &[Tally], of: impl Fn(&Tally) -> &Vec<Line>) {
    let known: BTreeSet<(String, Option<Id>)> =
        shown.iter().map(|line| (line.rule.clone(), line.mark)).collect();
    let mut only_elsewhere: BTreeMap<(&str, Option<Id>), &Line> = BTreeMap::new();
    let mut order = Vec::new();
    for other in others {
        let mut there: BTreeMap<(&str, Option<Id>), Vec<Points>> = BTreeMap::new();
        for line in of(other) {
            there.entry((&line.rule, line.mark)).or_default().push(line.amount);
        }
        for line in shown.iter_mut() {
            let amounts = there.get(&(line.rule.as_str(), line.mark));
            let is_same = match line.status {
                Status::Taken => amounts.is_some_and(|amounts| amounts.contains(&line.amount)),
                Status::NotCounted => amounts.is_none_or(|amounts| amounts.contains(&line.amount)),
                _ => true,
            };
            if !is_same {
                line.status = Status::Close;
            }
        }
        for line in of(other).iter().filter(|line| line.mark.is_some()) {
            let key = (line.rule.as_str(), line.mark);
            if !known.contains(&(line.rule.clone(), line.mark))
                && only_elsewhere.insert(key, line).is_none()
            {
                order.push(key);
            }
        }
    }
    for key in order {
        let line = only_elsewhere[&key];
        let reason = format!("{} It is a close call.", line.reason);
        let status = Status::Close;
        shown.push(Line { amount: Points::ZERO, status, reason, ..line.clone() });
    }
}
