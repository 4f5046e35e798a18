//! Warnings about replacements that would make an exercise with more faults cost less.

use crate::{
    rulebook::{Book, Replace, rows::findings::Findings},
    units::Points,
};

use super::{
    all::{Spots, pairs},
    taken::{Place, Taken, taken},
};

/// Adds warnings about every replacement of the book.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for replace in &book.replaces {
        let lowers = |at: (&str, &str)| {
            [Place::Element, Place::Exercise]
                .into_iter()
                .find_map(|place| why_lower(book, replace, at, place))
        };
        if let Some(message) = pairs(book, &replace.scope).find_map(lowers) {
            let row = spots.first("replace", |row| row.word("rule") == replace.rule);
            let span = row.map_or(0..0, |row| row.span_of("drops"));
            findings.warning(&span, message, "raise its amount, or cap what it replaces");
        }
    }
}

fn why_lower(book: &Book, replace: &Replace, at: (&str, &str), place: Place) -> Option<String> {
    let stays = taken(book, &replace.rule, at, place)?;
    let goes: Vec<Taken<'_>> =
        replace.drops.iter().filter_map(|rule| taken(book, rule, at, place)).collect();
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
