//! What routines are drawn from to try one row: the elements and rules that it has to do with.

use std::collections::BTreeSet;

use crate::{
    rulebook::{Angle, Book, Element, Fault, FaultAmount, Trigger, TypedBook, TypedRow, When},
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

/// Returns what routines are drawn from to try the row on the event in the division.
pub(super) fn of<'b>(
    typed: &'b TypedBook,
    row: &TypedRow,
    (event, division): (&'b str, &'b str),
) -> Ingredients<'b> {
    let book = &typed.book;
    let named = Named::of(typed, row);
    let is_general = GENERAL.contains(&row.table);
    let (near, far): (Vec<&Element>, Vec<&Element>) = book
        .elements_of(event)
        .partition(|element| is_general || named.element(element) || shares(book, &named, element));
    let count = near.len();
    let others = far.into_iter().filter(|it| book.allowed(it, division)).take(OTHERS);
    let elements: Vec<&Element> = near.into_iter().chain(others).collect();
    let rule = |id: &str, groups: &[String]| {
        is_general
            || named.rules.contains(id)
            || groups.iter().any(|group| named.groups.contains(group))
    };
    let cap_of_all = row.table == "cap" && named.groups.is_empty();
    let of_worth =
        |fault: &Fault| row.table == "element" && matches!(fault.amount, FaultAmount::OfValue(_));
    let faults = book.faults_of(event, division).into_iter();
    let faults: Vec<&Fault> =
        faults.filter(|it| cap_of_all || of_worth(it) || rule(&it.id, &it.groups)).collect();
    let whens = book.whens_of(event, division).into_iter();
    let whens: Vec<&When> = whens
        .filter(|it| cap_of_all || rule(&it.id, &it.groups) || row.table == "element")
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

/// The names that a row gives, by what they name.
struct Named {
    elements: BTreeSet<String>,
    tags: BTreeSet<String>,
    classes: BTreeSet<String>,
    rules: BTreeSet<String>,
    groups: BTreeSet<String>,
}

impl Named {
    fn of(typed: &TypedBook, row: &TypedRow) -> Self {
        let all = |keys: &[&str]| keys.iter().flat_map(|key| typed.names(row, key)).collect();
        let own = if row.table == "element" { &["id", "pair", "becomes"][..] } else { &[] };
        let mut named = Self {
            elements: all(&[&["elements"], own].concat()),
            tags: all(&[
                "tags",
                "except",
                "with",
                "links",
                "only_first",
                "only_last",
                "series",
                "after",
            ]),
            classes: all(&["classes"]),
            rules: all(&[
                "id",
                "rule",
                "drops",
                "except",
                "lifted_by",
                "unless",
                "asks",
                "apart_from",
            ]),
            groups: all(&["group"]),
        };
        // Caps and replacements take effect through the rules that they name.
        for angle in typed.book.angles.iter().filter(|it| named.rules.contains(&it.id)) {
            named.elements.extend(angle.elements.iter().cloned());
            named.tags.extend(angle.tags.iter().cloned());
        }
        for rule in typed.book.requirements.iter().filter(|it| named.rules.contains(&it.id)) {
            named.elements.extend(rule.elements.iter().cloned());
            named.tags.extend(rule.tags.iter().cloned());
        }
        for bonus in typed.book.bonuses.iter().filter(|it| named.rules.contains(&it.id)) {
            named.elements.extend(bonus.elements.iter().cloned());
            named.tags.extend(bonus.tags.iter().cloned());
        }
        for text in typed.book.texts.iter().filter(|it| named.rules.contains(&it.id)) {
            named.elements.extend(text.elements.iter().cloned());
        }
        named
    }

    fn element(&self, element: &Element) -> bool {
        self.elements.contains(&element.id)
            || element.tags.iter().any(|tag| self.tags.contains(tag))
            || element.classes().any(|class| self.classes.contains(class))
    }
}

/// Returns whether the element is the same as a named one, or makes a pair with one.
fn shares(book: &Book, named: &Named, element: &Element) -> bool {
    let of = book.elements.iter().filter(|it| it.event == element.event);
    let mut named = of.filter(|it| named.elements.contains(&it.id));
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
