//! Which lines of the sheet are close: they come out otherwise in another world.

use super::{
    model::{Line, Status},
    tally::Tally,
};
use crate::units::Points;

/// Marks every line of the tally shown that is otherwise in one of the others.
pub fn mark(shown: &mut Tally, tallies: &[Tally]) {
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
    let key = |line: &Line| (line.rule.clone(), line.mark);
    for line in shown.iter_mut().filter(|line| line.status == Status::Taken) {
        let same = |other: &Line| key(other) == key(line) && other.amount == line.amount;
        if others.iter().any(|other| !of(other).iter().any(same)) {
            line.status = Status::Close;
        }
    }
    for other in others {
        for line in of(other).iter().filter(|line| line.mark.is_some()) {
            if !shown.iter().any(|known| key(known) == key(line)) {
                let reason = format!("{} It is a close call.", line.reason);
                shown.push(Line {
                    amount: Points::ZERO,
                    status: Status::Close,
                    reason,
                    ..line.clone()
                });
            }
        }
    }
}
