//! Elements that could be put in: from the athlete's own list where there is one.

use std::collections::BTreeSet;

use crate::{
    marks::{Id, Sheaf},
    rulebook::{Book, Element, Requirement},
    sheet::{credit::requirements::is_named, model::Status, score::Tally},
};

use super::{
    changes,
    search::{For, Search, TRIED},
    skills::Skills,
};

/// Elements that carry one of these tags are never suggested.
const NEVER_SUGGESTED: [&str; 3] = ["flight", "dismount", "salto"];

/// What could be put into the routine.
pub(crate) struct Suggestions<'a> {
    /// What the athlete has; without a list, what the division may use.
    has: Vec<&'a Element>,
    /// What she is learning.
    learning: Vec<&'a Element>,
    done: Vec<(Id, &'a Element)>,
}

impl<'a> Suggestions<'a> {
    /// Looks through the book, or the athlete's own list, for what the routine does not show yet.
    pub(crate) fn new(
        book: &'a Book,
        sheaf: &'a Sheaf,
        shown: &Tally,
        skills: Option<&Skills>,
    ) -> Self {
        let (event, division) = (sheaf.routine.event.as_str(), sheaf.routine.division.as_str());
        let done: Vec<(Id, &Element)> = shown
            .elements
            .iter()
            .filter_map(|line| Some((line.mark, book.element(event, &line.element)?)))
            .collect();
        let could_be: Vec<&Element> = book
            .elements_of(event)
            .filter(|element| book.allowed(element, division) && may_be_suggested(element))
            .filter(|element| done.iter().all(|(_, other)| other.family != element.family))
            .collect();
        let listed = |ids: &[String]| -> Vec<&Element> {
            could_be.iter().copied().filter(|element| ids.contains(&element.id)).collect()
        };
        let (has, learning) = match skills {
            Some(skills) => (listed(&skills.has), listed(&skills.learning)),
            None => (could_be.clone(), Vec::new()),
        };
        Self { has, learning, done }
    }

    /// Tries another element, or none, in the place of each that the division may not use.
    pub(crate) fn replace(&self, search: &mut Search<'_>) {
        let (book, division) = (search.book, search.sheaf.routine.division.clone());
        let not_allowed = self.done.iter().filter(|(_, e)| !book.allowed(e, &division));
        for (mark, old) in not_allowed.take(TRIED) {
            let alike = |element: &&&Element| {
                element.class_in(&division) == old.class_in(&division)
                    || element.tags.iter().any(|tag| old.tags.contains(tag))
            };
            let found = self.each(alike, |element, learning| {
                let mut changed = search.sheaf.clone();
                changes::replaced(book, &mut changed, *mark, element);
                let what = format!(
                    "Replace {}, which this division may not use, by {}{}.",
                    old.name,
                    element.name,
                    still(learning)
                );
                search.tries(changed, (what, learning), For::Anything)
            });
            if !found {
                let mut changed = search.sheaf.clone();
                changes::left_out(&mut changed, &BTreeSet::from([*mark]));
                let what = format!("Leave out {}, which this division may not use.", old.name);
                search.tries(changed, (what, false), For::Anything);
            }
        }
    }

    /// Tries one more element for every value part and requirement that is missing.
    pub(crate) fn add(&self, search: &mut Search<'_>) {
        let (book, sheaf) = (search.book, search.sheaf);
        let (event, division) = (sheaf.routine.event.as_str(), sheaf.routine.division.as_str());
        let parts = search.shown.value_parts.iter().filter(|part| part.status != Status::Met);
        let rule = book.value_parts_of(event, division);
        for class in parts.map(|part| part.class.clone()).collect::<Vec<_>>() {
            let asked = book.rank(&class);
            let fills = |element: &&&Element| {
                rule.is_some_and(|rule| rule.takes(book.rank(element.class_in(division)), asked))
            };
            self.each(fills, |element, learning| {
                add_one(search, (element, learning), None, For::Part(&class))
            });
        }
        let lines = search.shown.requirements.iter().filter(|line| line.status != Status::Met);
        let missing: Vec<String> = lines.map(|line| line.id.clone()).collect();
        for rule in book.requirements_of(event, division) {
            if missing.contains(&rule.id) {
                self.serve(search, rule);
            }
        }
    }

    /// Tries to serve a requirement: one element more, next to its like where they must follow
    /// one another, or as many as are missing.
    fn serve(&self, search: &mut Search<'_>, rule: &Requirement) {
        let division = search.sheaf.routine.division.clone();
        let serves = |element: &&&Element| is_named(rule, element, &division);
        let like: Vec<Id> = self
            .done
            .iter()
            .filter(|(_, element)| rule.connected && is_named(rule, element, &division))
            .map(|(mark, _)| *mark)
            .collect();
        let found = self.each(serves, |element, learning| {
            let beside = like.iter().take(TRIED).map(|mark| Some(*mark));
            let mut places = beside.chain([None]);
            let wanted = For::Requirement(&rule.id);
            places.any(|after| add_one(search, (element, learning), after, wanted))
        });
        if found {
            return;
        }
        for (all, learning) in [(&self.has, false), (&self.learning, true)] {
            let several: Vec<&Element> =
                all.iter().filter(serves).copied().take(rule.count as usize).collect();
            if several.len() > 1 {
                let mut changed = search.sheaf.clone();
                for element in &several {
                    changes::added(search.book, &mut changed, element, None);
                }
                let names: Vec<&str> = several.iter().map(|e| e.name.as_str()).collect();
                let what = format!("Add {}{}.", names.join(" and "), still(learning));
                search.tries(changed, (what, learning), For::Requirement(&rule.id));
            }
        }
    }

    /// Tries the elements that the athlete has until one raises something, and apart from them
    /// those that she is learning; returns whether one did.
    fn each(
        &self,
        fits: impl Fn(&&&'a Element) -> bool,
        mut tries: impl FnMut(&Element, bool) -> bool,
    ) -> bool {
        let mut first = |elements: &[&'a Element], learning: bool| {
            let mut fitting = elements.iter().filter(&fits).take(TRIED);
            fitting.any(|element| tries(element, learning))
        };
        let has = first(&self.has, false);
        let learning = first(&self.learning, true);
        has || learning
    }
}

fn add_one(
    search: &mut Search<'_>,
    (element, learning): (&Element, bool),
    after: Option<Id>,
    wanted: For<'_>,
) -> bool {
    let mut changed = search.sheaf.clone();
    changes::added(search.book, &mut changed, element, after);
    let line = after.and_then(|id| search.shown.elements.iter().find(|line| line.mark == id));
    let place = line.map_or(String::new(), |line| format!(" directly after {}", line.label));
    let what = format!("Add {}{place}{}.", element.name, still(learning));
    search.tries(changed, (what, learning), wanted)
}

const fn still(learning: bool) -> &'static str {
    if learning { ", which is still being learned" } else { "" }
}

fn may_be_suggested(element: &Element) -> bool {
    element.vault.is_none()
        && element.pair.is_empty()
        && !element.tags.iter().any(|tag| NEVER_SUGGESTED.contains(&tag.as_str()))
}
