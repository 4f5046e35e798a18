//! What routines are drawn from to try one row: the elements and rules that it has to do with.

use crate::{
    rulebook::{
        Angle, Book, Credit, Element, Fault, FaultAmount, Named, Trigger, TypedBook, TypedRow, When,
    },
    units::Points,
};

/// How many elements that the row has nothing to do with are drawn too.
const OTHERS: usize = 3;

/// What routines of one event and division are drawn from.
pub(super) struct Ingredients<'b> {
    pub event: &'b str,
    pub division: &'b str,
    /// Elements that the row has to do with, then some others.
    pub elements: Vec<&'b Element>,
    /// How many of them the row has to do with.
    pub near: usize,
    /// All that the division may do, for a routine in which little is missing.
    pub all: Vec<&'b Element>,
    /// What may stand between the elements of a series.
    pub links: Vec<&'b Element>,
    pub vaults: Vec<&'b Element>,
    pub faults: Vec<&'b Fault>,
    pub whens: Vec<&'b When>,
    pub angles: Vec<&'b Angle>,
    /// Names of facts with values about their limits.
    pub facts: Vec<(&'b str, Vec<String>)>,
    /// Durations about the limits, in milliseconds.
    pub times: Vec<i64>,
    /// Times between two elements, in milliseconds.
    pub gaps: Vec<i64>,
}

impl<'b> Ingredients<'b> {
    /// Returns the element of that id.
    pub(super) fn element(&self, id: &str) -> Option<&'b Element> {
        self.all.iter().chain(&self.elements).find(|element| element.id == id).copied()
    }
}

/// Kinds whose rows have to do with everything of their event.
const GENERAL: &[&str] = &[
    "scoring",
    "value_parts",
    "class",
    "division",
    "event",
    "too_few",
    "bonus_limit",
    "cap",
    "time",
];

/// Kinds that ask for elements with credit.
const EARNED: &[&str] = &["requirement", "connection", "bonus"];

/// Returns what routines are drawn from to try the row on the event in the division.
pub(super) fn of<'b>(
    typed: &'b TypedBook,
    row: &TypedRow,
    (event, division): (&'b str, &'b str),
) -> Ingredients<'b> {
    let book = &typed.book;
    let named = typed.named(row);
    let is_general = GENERAL.contains(&row.table);
    let is_of_any = is_general || typed.takes_credit(row);
    // What credit earns is seen where some is lost, and what takes it where some is earned.
    let is_earned = EARNED.contains(&row.table);
    let (near, far): (Vec<&Element>, Vec<&Element>) = book
        .elements_of(event)
        .partition(|element| is_of_any || named.is_of(element) || shares(book, &named, element));
    let count = near.len();
    let others = far.into_iter().filter(|it| book.allowed(it, division)).take(OTHERS);
    let elements: Vec<&Element> = near.into_iter().chain(others).collect();
    let rule = |id: &str, groups: &[String]| is_general || named.has_rule(id, groups);
    let cap_of_all = row.table == "cap" && !named.has_group();
    let of_worth =
        |fault: &Fault| row.table == "element" && matches!(fault.amount, FaultAmount::OfValue(_));
    let faults = book.faults_of(event, division).into_iter();
    let of_credit = |removes: &[Credit]| is_earned && !removes.is_empty();
    let faults: Vec<&Fault> = faults
        .filter(|it| {
            cap_of_all || of_worth(it) || of_credit(&it.removes) || rule(&it.id, &it.groups)
        })
        .collect();
    let whens = book.whens_of(event, division).into_iter();
    let whens: Vec<&When> = whens
        .filter(|it| {
            cap_of_all
                || of_credit(&it.removes)
                || rule(&it.id, &it.groups)
                || row.table == "element"
        })
        .collect();
    let angles = book.angles_in(event, division);
    let links = typed.names(row, "links");
    let is_link = |it: &&Element| it.tags.iter().any(|tag| links.contains(tag));
    Ingredients {
        links: book.elements_of(event).filter(is_link).collect(),
        event,
        division,
        near: count,
        all: book.elements_of(event).filter(|it| book.allowed(it, division)).collect(),
        vaults: book.elements_of(event).filter(|it| it.vault.is_some()).collect(),
        elements,
        facts: facts(book, (event, division)),
        times: times(book, (event, division)),
        gaps: gaps(book, (event, division)),
        faults,
        whens,
        angles,
    }
}

/// Returns whether the element is the same as a named one, or makes a pair with one.
fn shares(book: &Book, named: &Named, element: &Element) -> bool {
    let of = book.elements.iter().filter(|it| it.event == element.event);
    let mut named = of.filter(|it| named.has_element(&it.id));
    named.any(|it| it.family == element.family || element.pair == it.id || element.becomes == it.id)
}

fn facts<'b>(book: &'b Book, (event, division): (&str, &str)) -> Vec<(&'b str, Vec<String>)> {
    let mut facts: Vec<(&str, Vec<String>)> = Vec::new();
    let mut add =
        |fact: &'b str, values: Vec<String>| match facts.iter_mut().find(|(it, _)| *it == fact) {
            Some((_, known)) => known.extend(values),
            None => facts.push((fact, [vec!["else".to_owned()], values].concat())),
        };
    for when in book.whens_of(event, division) {
        if let Trigger::Fact { fact, is, below, above } = &when.trigger {
            let about =
                |limit: &Points| [-10, 0, 10].map(|more| Points(limit.0 + more).to_string());
            let limits = below.iter().chain(above).flat_map(about);
            add(fact, is.iter().cloned().chain(limits).collect());
        }
    }
    for bonus in book.bonuses_of(event, division) {
        if !bonus.fact.is_empty() {
            add(&bonus.fact, bonus.is.clone());
        }
    }
    facts
}

fn times(book: &Book, (event, division): (&str, &str)) -> Vec<i64> {
    let rules = book.times_of(event, division).into_iter();
    let limits = rules.flat_map(|rule| rule.at_least.into_iter().chain(rule.at_most));
    limits
        .flat_map(|limit| [limit - 20, limit, limit + 20, limit + 600])
        .filter(|it| *it > 0)
        .collect()
}

fn gaps(book: &Book, (event, division): (&str, &str)) -> Vec<i64> {
    let asked = book.requirements_of(event, division);
    let connected = book.connections_of(event, division);
    let follow = asked.iter().map(|it| &it.follow).chain(connected.iter().map(|it| &it.follow));
    let gaps = follow.filter_map(|follow| follow.gap);
    gaps.flat_map(|gap| [gap - 20, gap, gap + 20, gap + 500]).filter(|it| *it > 0).collect()
}
