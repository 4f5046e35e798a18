//! Warnings about replacements that would make an exercise with more faults cost less.

use std::collections::BTreeMap;

use crate::{
    rulebook::{
        kinds::{
            replace::Replace,
            rule::{Place, Rule, Taken, Worths},
        },
        model::book::Book,
        rows::Findings,
    },
    units::Points,
};

use super::spots::{Spots, pairs};

/// Adds warnings about every replacement of the book.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let rules = book.rules();
    for replace in &book.replaces {
        let lowers = |at: (&str, &str)| {
            [Place::Element, Place::Exercise]
                .into_iter()
                .find_map(|place| why_lower((book, &rules), replace, at, place))
        };
        if let Some(message) = pairs(book, &replace.scope).find_map(lowers) {
            let row = spots.first("replace", |row| row.word("rule") == replace.rule);
            let span = row.map_or(0..0, |row| row.span_of("drops"));
            findings.warning(&span, message, "raise its amount, or cap what it replaces");
        }
    }
}

fn why_lower(
    (book, rules): (&Book, &[&dyn Rule]),
    replace: &Replace,
    at: (&str, &str),
    place: Place,
) -> Option<String> {
    let worths = At { book, event: at.0, division: at.1 };
    let taken = |id: &String| {
        let here = |rule: &&&dyn Rule| rule.id() == Some(id) && rule.scope().covers(at.0, at.1);
        rules.iter().filter(here).find_map(|rule| rule.taken(place, &worths))
    };
    let stays = taken(&replace.rule)?;
    let with_id = |id| Some((id, taken(id)?));
    let goes: Vec<(&String, Taken<'_>)> = replace.drops.iter().filter_map(with_id).collect();
    let caps = book.caps_of(at.0, at.1);
    let least = stays.once[0];
    let of = |amount: String| {
        let stays = least.short();
        let rule = &replace.rule;
        Some(format!(
            "\"{rule}\" costs {stays} and may stand in the place of {amount}, so that more faults \
             cost less"
        ))
    };
    // What the same caps limit is limited together; at one element, a cap on more than that holds too.
    let mut sums: BTreeMap<Vec<usize>, Option<Points>> = BTreeMap::new();
    for (id, one) in goes.iter().filter(|_| !stays.void) {
        let sum = if one.again { None } else { Some(one.once[1]) };
        let limits = |at: &usize| !caps[*at].plus_value && caps[*at].limits(id, one.groups);
        let all =
            sums.entry((0..caps.len()).filter(limits).collect()).or_insert(Some(Points::ZERO));
        *all = all.zip(sum).map(|(all, sum)| all + sum);
    }
    let mut most = Points::ZERO;
    for (limits, sum) in sums {
        let limit = limits.into_iter().map(|at| caps[at].at_most).min();
        let Some(sum) = least_of(sum, limit) else {
            return of("any number of faults".to_owned());
        };
        most += sum;
    }
    if most > least { of(most.short()) } else { None }
}

/// What the elements of an event are worth in a division.
struct At<'b> {
    book: &'b Book,
    event: &'b str,
    division: &'b str,
}

impl Worths for At<'_> {
    fn of(&self, element: &str) -> Points {
        let element = self.book.element(self.event, element);
        element.map(|element| self.book.worth(element, self.division)).unwrap_or_default()
    }

    fn most(&self) -> Points {
        let worths = self.book.elements.iter().map(|it| self.book.worth(it, self.division));
        worths.max().unwrap_or_default()
    }
}

fn least_of(a: Option<Points>, b: Option<Points>) -> Option<Points> {
    match (a, b) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    }
}
