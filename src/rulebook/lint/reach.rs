//! Warnings about numbers that something else always goes before: tables that are never reached, a
//! lowest above a highest, limits beyond what there is.

use crate::{
    rulebook::{
        Book, Scoring,
        kinds::{
            ledger::Holds,
            rule::{Place, Rule, Taken, Worths},
        },
        rows::{Findings, Row},
    },
    units::Points,
};

use super::spots::{Spots, covers, pairs};

/// Adds the warnings.
pub(crate) fn lint(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    // Of the others it is told where two cover one event and division.
    for table in ["panel", "attempts"] {
        unreached(book, table, spots, findings);
    }
    for scoring in &book.scorings {
        limits(scoring, spots, findings);
    }
    caps(book, spots, findings);
}

/// Warns of a lowest score that lies above the highest, of the whole or of a part.
pub(crate) fn lowest(spots: &Spots<'_>, findings: &mut Findings<'_>) {
    for row in spots.rows("scoring") {
        lowest_and_highest(row, findings);
    }
}

/// Warns of a table where those before it cover all that it covers: of these only the first counts.
fn unreached(book: &Book, table: &str, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let all: Vec<(&str, &str)> = book
        .events
        .iter()
        .flat_map(|event| {
            book.divisions_of(&event.id).map(|it| (event.id.as_str(), it.id.as_str()))
        })
        .collect();
    let mut before: Vec<&Row> = Vec::new();
    // A panel of some parts of the score leaves the others to those behind it.
    let of_all = |row: &&Row| row.texts("parts").is_empty();
    for row in spots.rows(table).iter().filter(of_all) {
        let mut own = all.iter().filter(|at| covers(row, **at)).peekable();
        let is_first = |at: &(&str, &str)| before.iter().all(|other| !covers(other, *at));
        if own.peek().is_some() && !own.any(is_first) {
            let message = format!("this [[{table}]] is never reached");
            let remedy = "the first that covers an event and division counts: put it before the \
                          general one, or narrow that one";
            findings.warning(&row.span, message, remedy);
        }
        before.push(row);
    }
}

fn lowest_and_highest(row: &Row, findings: &mut Findings<'_>) {
    let mut above = |row: &Row, (low, high): (&str, &str)| {
        let (Some(floor), Some(most)) = (row.points(low), row.points(high)) else { return };
        if floor > most {
            let message =
                format!("the lowest, {}, lies above the highest, {}", floor.short(), most.short());
            let remedy = format!("{low} is the least and {high} the most: change one of them");
            findings.warning(&row.span_of(low), message, &remedy);
        }
    };
    above(row, ("floor", "ceiling"));
    for part in row.rows("parts") {
        above(part, ("floor", "at_most"));
    }
}

fn limits(scoring: &Scoring, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let best = scoring.ledger.best;
    let row = spots.first("scoring", |row| {
        let alike = |key, names: &[String]| {
            row.texts(key).is_empty() || row.texts(key).iter().any(|name| names.contains(name))
        };
        alike("events", &scoring.scope.events) && alike("divisions", &scoring.scope.divisions)
    });
    let Some(row) = row else { return };
    if row.has("best") && !scoring.ledger.holds(Holds::Elements) {
        let message = "\"best\" counts elements, and no part holds any".to_owned();
        let remedy = "add holds = \"elements\" to a part, or take the key out";
        findings.warning(&row.span_of("best"), message, remedy);
        return;
    }
    for limit in &scoring.limits {
        let tags = limit.tags.join(", ");
        if limit.at_most.is_some_and(|most| most >= best) {
            let message = format!(
                "{best} elements count, so that at most {} with {tags} limits nothing",
                limit.at_most.unwrap_or_default()
            );
            findings.warning(&row.span_of("limits"), message, "write fewer, or take the limit out");
        }
        if limit.at_least.is_some_and(|least| least > best) {
            let message = format!(
                "{best} elements count, so that {} places cannot be kept for {tags}",
                limit.at_least.unwrap_or_default()
            );
            findings.warning(&row.span_of("limits"), message, "write fewer");
        }
    }
}

/// Warns of caps that limit nothing: whose rules are nowhere, or never cost so much together.
fn caps(book: &Book, spots: &Spots<'_>, findings: &mut Findings<'_>) {
    let rules = book.rules();
    for cap in &book.caps {
        let mut most: Option<Points> = None;
        let mut is_open = false;
        for at in pairs(book, &cap.scope) {
            let worths = Everything { book, division: at.1 };
            let mut sum: Option<Points> = None;
            for rule in rules.iter().filter(|rule| rule.scope().covers(at.0, at.1)) {
                let places = [Place::Element, Place::Exercise];
                let mut taken = places.iter().filter_map(|place| rule.taken(*place, &worths));
                let Some(taken) = taken.next() else { continue };
                if !rule.id().is_some_and(|id| cap.limits(id, taken.groups)) {
                    continue;
                }
                is_open |= is_repeated(*rule, &taken, spots) || cap.plus_value;
                sum = Some(sum.unwrap_or_default() + taken.once[1]);
            }
            most = most.max(sum);
        }
        let span = spots.of("cap", &cap.id, "at_most");
        match most {
            None if cap.group.is_empty() => {}
            None => {
                let message = format!(
                    "no rule of the group {} is where \"{}\" holds",
                    cap.group.join(", "),
                    cap.id
                );
                let span = spots.of("cap", &cap.id, "group");
                findings.warning(
                    &span,
                    message,
                    "check its events and divisions, and the rules' groups",
                );
            }
            Some(most) if !is_open && book.merges.is_empty() && most <= cap.at_most => {
                let message = format!(
                    "\"{}\" is never reached: its rules cost at most {} together",
                    cap.id,
                    most.short()
                );
                findings.warning(&span, message, "lower it, or take the cap out");
            }
            Some(_) => {}
        }
    }
}

/// Returns whether the rule may cost its amount more than once in an exercise.
fn is_repeated(rule: &dyn Rule, taken: &Taken<'_>, spots: &Spots<'_>) -> bool {
    let row = rule.id().and_then(|id| spots.first(rule.table(), |row| row.word("id") == id));
    let once = row.is_some_and(|row| row.word("counts") == "once");
    taken.again || !once
}

/// What the elements of the book are worth in a division.
struct Everything<'b> {
    book: &'b Book,
    division: &'b str,
}

impl Worths for Everything<'_> {
    fn of(&self, element: &str) -> Points {
        let of = self.book.elements.iter().filter(|known| known.id == element);
        of.map(|known| self.book.worth(known, self.division)).max().unwrap_or_default()
    }

    fn most(&self) -> Points {
        let worths = self.book.elements.iter().map(|it| self.book.worth(it, self.division));
        worths.max().unwrap_or_default()
    }
}
