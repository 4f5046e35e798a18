//! Warnings about replacements that would make an exercise with more faults cost less.

use super::{
    Book, FaultAmount, Per, Replace,
    findings::Findings,
    lint::{Spots, together},
};
use crate::units::Points;

/// Adds warnings about every replacement of the book.
pub fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for replace in &book.replaces {
        let stays = most(book, &replace.rule);
        let goes = dropped(book, replace);
        if goes > stays {
            let message = format!(
                "\"{}\" costs {} and may stand in the place of {}, so that more faults cost less",
                replace.rule,
                stays.short(),
                goes.short()
            );
            let row = spots.first("replace", |row| row.word("rule") == replace.rule);
            let span = row.map_or(0..0, |row| row.span_of("drops"));
            findings.warning(&span, message, "raise its amount, or cap what it replaces");
        }
    }
}

/// Returns the most that the dropped rules can cost at one element: by group as its cap allows,
/// each rule once where nothing caps it.
fn dropped(book: &Book, replace: &Replace) -> Points {
    let mut groups: Vec<(String, Points)> = Vec::new();
    for rule in &replace.drops {
        let group = group(book, rule).unwrap_or_else(|| rule.clone());
        let amount = most(book, rule);
        match groups.iter_mut().find(|(known, _)| *known == group) {
            Some((_, sum)) => *sum += amount,
            None => groups.push((group, amount)),
        }
    }
    groups
        .into_iter()
        .map(|(group, sum)| {
            let cap = book.caps.iter().find(|cap| {
                cap.group == group
                    && cap.per == Per::Element
                    && together(&cap.scope.events, &replace.scope.events)
            });
            cap.map_or(sum, |cap| cap.at_most)
        })
        .sum()
}

/// Returns the most that one occurrence of the rule costs.
fn most(book: &Book, rule: &str) -> Points {
    let faults =
        book.faults.iter().filter(|fault| fault.id == rule).map(|fault| match &fault.amount {
            FaultAmount::Flat(amount) | FaultAmount::UpTo { max: amount, .. } => *amount,
            FaultAmount::Choice(choice) => choice.iter().copied().max().unwrap_or_default(),
        });
    let whens = book.whens.iter().filter(|when| when.id == rule).map(|when| when.amount);
    faults.chain(whens).max().unwrap_or_default()
}

fn group(book: &Book, rule: &str) -> Option<String> {
    let fault = book.faults.iter().find(|fault| fault.id == rule).map(|fault| &fault.group);
    let when = || book.whens.iter().find(|when| when.id == rule).map(|when| &when.group);
    fault.or_else(when).filter(|group| !group.is_empty()).cloned()
}
