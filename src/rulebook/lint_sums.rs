//! Warnings about replacements that would make an exercise with more faults cost less.

use super::{
    BandAmount, Book, Counts, FaultAmount, Replace,
    findings::Findings,
    lint::{Spots, pairs},
};
use crate::units::Points;

/// Adds warnings about every replacement of the book.
pub fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for replace in &book.replaces {
        let lowers = |at: (&str, &str)| why_lower(book, replace, at);
        if let Some(message) = pairs(book, &replace.scope).find_map(lowers) {
            let row = spots.first("replace", |row| row.word("rule") == replace.rule);
            let span = row.map_or(0..0, |row| row.span_of("drops"));
            findings.warning(&span, message, "raise its amount, or cap what it replaces");
        }
    }
}

/// What a rule takes at one element.
struct Taken<'b> {
    /// The least and the most that it takes once.
    once: [Points; 2],
    /// Whether it may be taken again and again.
    again: bool,
    group: &'b str,
    void: bool,
}

fn why_lower(book: &Book, replace: &Replace, at: (&str, &str)) -> Option<String> {
    let stays = taken(book, &replace.rule, at)?;
    let goes: Vec<Taken<'_>> =
        replace.drops.iter().filter_map(|rule| taken(book, rule, at)).collect();
    let least = stays.once[0];
    let of = |amount: String| {
        let stays = least.short();
        let rule = &replace.rule;
        Some(format!(
            "\"{rule}\" costs {stays} and may stand in the place of {amount}, so that more faults \
             cost less"
        ))
    };
    let mut sums: Vec<(&str, Option<Points>)> = Vec::new();
    for one in goes.iter().filter(|_| !stays.void) {
        let sum = if one.again { None } else { Some(one.once[1]) };
        match sums.iter_mut().find(|(group, _)| *group == one.group && !one.group.is_empty()) {
            Some((_, all)) => *all = all.zip(sum).map(|(all, sum)| all + sum),
            None => sums.push((one.group, sum)),
        }
    }
    let mut most = Points::ZERO;
    for (group, sum) in sums {
        let Some(sum) = least_of(sum, cap(book, group, at)) else {
            return of("any number of faults".to_owned());
        };
        most += sum;
    }
    if most > least { of(most.short()) } else { None }
}

fn least_of(a: Option<Points>, b: Option<Points>) -> Option<Points> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}

/// Returns the lowest limit on the group at one element; a limit on more than that limits it too.
fn cap(book: &Book, group: &str, (event, division): (&str, &str)) -> Option<Points> {
    let caps = book.caps_of(event, division).into_iter();
    let of_group = caps.filter(|cap| cap.group.is_empty() || cap.group == group);
    of_group.filter(|cap| !cap.plus_value).map(|cap| cap.at_most).min()
}

fn taken<'b>(book: &'b Book, rule: &str, (event, division): (&str, &str)) -> Option<Taken<'b>> {
    let fault = book.faults_of(event, division).into_iter().find(|it| it.id == rule).map(|it| {
        let again = it.counts == Counts::Each;
        Taken { once: amounts(book, &it.amount), again, group: &it.group, void: it.void }
    });
    let when = || {
        let found = book.whens_of(event, division).into_iter().find(|it| it.id == rule)?;
        let (once, again) = ([found.amount; 2], found.counts == Counts::Each);
        Some(Taken { once, again, group: &found.group, void: found.void })
    };
    let angle = || {
        let covers = |it: &&super::Angle| it.id == rule && it.scope.covers(event, division);
        let found = book.angles.iter().find(covers)?;
        let most = found.bands.iter().map(|band| match band.amount {
            BandAmount::Flat(amount) => amount,
            BandAmount::Proportional { from, to, .. } => from.max(to),
        });
        // An angle is held against its rule once at each element.
        let once = [Points::ZERO, most.max().unwrap_or_default()];
        Some(Taken { once, again: false, group: &found.group, void: false })
    };
    let time = || {
        let found = book.times_of(event, division).into_iter().find(|it| it.id == rule)?;
        Some(Taken { once: [found.amount; 2], again: false, group: &found.group, void: found.void })
    };
    fault.or_else(when).or_else(angle).or_else(time)
}

/// Returns the least and the most that a fault takes once; what a judge chooses may be nothing
/// yet, so that the least of a choice is its smallest amount.
fn amounts(book: &Book, amount: &FaultAmount) -> [Points; 2] {
    match amount {
        FaultAmount::Flat(amount) => [*amount; 2],
        FaultAmount::UpTo { max, grid } => [*grid, *max],
        FaultAmount::Choice(choice) => {
            let least = choice.iter().min().copied().unwrap_or_default();
            [least, choice.iter().max().copied().unwrap_or_default()]
        }
        FaultAmount::OfValue(times) => {
            let worth = book.elements.iter().map(|element| book.worth(element));
            [Points::ZERO, worth.max().unwrap_or_default().scaled(*times)]
        }
    }
}
