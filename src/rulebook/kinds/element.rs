//! Elements and vaults.

use std::collections::{BTreeMap, btree_map::Entry};

use serde::{Deserialize, Serialize};

use super::shared::{SHORTHAND, WHERE};
use crate::{
    marks::Facing,
    rulebook::{
        keys::{
            DIVISIONS, Key, Part, Settle, defines, defines_some, inner, name_by_division, names,
            names_some, one_of, points, some_of, span, table, text, words_of_marks,
        },
        rows::{Field, Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// A skill that has a name; a vault carries its own value.
    #[derive(Clone, Debug, Default, PartialEq)]
    pub struct Element in [[element]] {
        /// Short name, which marks files keep.
        must id: String = defines(Space::Element);
        /// Its name.
        must name: String = text();
        /// Event it belongs to.
        must event: String = names(Space::Event);
        part credit: ElementCredit;
        key shorthand: String = SHORTHAND;
        /// Its code in the club's own printed book.
        may code: String = text();
        /// What requirements and rules call it by.
        may tags: Vec<String> = defines_some(Space::Tag);
        /// Elements of one family are the same element.
        may family: String = defines(Space::Family);
        key divisions: Vec<String> = DIVISIONS;
        /// Divisions that may use it although its class is above theirs.
        may selected: Vec<String> = names_some(Space::Division);
        /// Marks it asks for beside its own.
        may moments: Vec<Moment> = some_of::<Moment>();
        /// The element it makes one value part with.
        may pair: String = names(Space::Element);
        /// What it counts as where an angle takes its credit.
        may becomes: String = names(Space::Element);
        /// What identifies it as a vault.
        may vault: Option<Vault> = inner::<Vault>();
        key page: String = WHERE;
    }
    then finish;
}

/// What an element counts as: its class and its worth, by division where they differ.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ElementCredit(Vec<Counted>);

/// What it counts as in some divisions; an empty list stands for all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
struct Counted {
    divisions: Vec<String>,
    class: String,
    value: Option<Points>,
}

const CLASS: Key<String> = Key::may(
    "class",
    name_by_division(Space::Class),
    "Its class; left out when it is never a value part.",
);
const VALUE: Key<Points> = Key::may(
    "value",
    points(),
    "Its worth, for books that add elements up; else that of its class.",
);

impl Part for ElementCredit {
    const FIELDS: &'static [Field] = &[CLASS.fields()[0], VALUE.fields()[0]];

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        Self(vec![Counted {
            divisions: row.texts("divisions"),
            class: Settle::settle(CLASS.value(row, findings)),
            value: VALUE.value(row, findings),
        }])
    }
}

impl Element {
    /// Returns its class in the division; empty where it has none.
    pub fn class_in(&self, division: &str) -> &str {
        self.counted(division).map_or("", |counted| counted.class.as_str())
    }

    /// Returns its own worth in the division.
    pub fn value_in(&self, division: &str) -> Option<Points> {
        self.counted(division)?.value
    }

    /// Returns its classes, each as often as it is given; none is empty.
    pub(crate) fn classes(&self) -> impl Iterator<Item = &str> {
        let classes = self.credit.0.iter().map(|counted| counted.class.as_str());
        classes.filter(|class| !class.is_empty())
    }

    /// Returns what holds in the division, else what is written first, as for one that only may use it.
    fn counted(&self, division: &str) -> Option<&Counted> {
        let all = &self.credit.0;
        all.iter().find(|it| it.divisions.iter().any(|id| id == division)).or_else(|| all.first())
    }
}

table! {
    /// What identifies a vault, and its value.
    #[derive(Clone, Debug, Default, PartialEq, Eq)]
    pub struct Vault {
        /// Start value.
        must value: Points = points();
        /// Start value by division, where it differs.
        made values: Vec<(String, Points)>;
        /// Turn before the hands; 0 when left out.
        may before: [u16; 2] = span();
        /// Turn after the hands; any when left out.
        may after: Option<[u16; 2]> = span();
        /// Facing the apparatus at landing.
        may facing: Option<Facing> = one_of::<Facing>();
    }
}

impl Vault {
    /// Returns the start value in the division.
    pub(crate) fn value_in(&self, division: &str) -> Points {
        let own = self.values.iter().find(|(id, _)| id == division);
        own.map_or(self.value, |(_, value)| *value)
    }
}

/// A moment that is marked beside its element.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moment {
    /// The first frame on which a hand touches.
    HandContact,
    /// The last frame on which a hand touches.
    HandRelease,
    /// The heel of the turning foot leaves the floor.
    HeelLift,
    /// A heel comes down.
    HeelDrop,
    /// The landing.
    Landing,
}

words_of_marks!(Moment: "hand_contact", "hand_release", "heel_lift", "heel_drop", "landing");

fn finish(element: &mut Element, _: &Row, _: &mut Findings<'_>) {
    if element.family.is_empty() {
        element.family.clone_from(&element.id);
    }
    if let Some(vault) = &mut element.vault {
        let value = |division: &String| (division.clone(), vault.value);
        vault.values = element.divisions.iter().map(value).collect();
    }
}

/// Returns the elements, those that were read for several divisions as one again.
pub(crate) fn joined(read: Vec<Element>) -> Vec<Element> {
    let mut elements: Vec<Element> = Vec::with_capacity(read.len());
    let mut places: BTreeMap<(String, String), usize> = BTreeMap::new();
    for element in read {
        match places.entry((element.event.clone(), element.id.clone())) {
            Entry::Occupied(place) => join(&mut elements[*place.get()], element),
            Entry::Vacant(place) => {
                place.insert(elements.len());
                elements.push(element);
            }
        }
    }
    elements
}

/// The keys in which two rows of one element may differ: what it counts as, and where that is printed.
pub(crate) const BY_DIVISION: &[&str] = &["class", "value", "divisions", "code", "where"];

fn join(first: &mut Element, other: Element) {
    first.divisions.extend(other.divisions);
    first.credit.0.extend(other.credit.0);
    if let (Some(first), Some(other)) = (&mut first.vault, other.vault) {
        first.values.extend(other.values);
    }
}

#[cfg(test)]
mod tests {
    use super::Moment;
    use crate::rulebook::keys::Word;

    #[test]
    fn the_moments_are_those_of_the_marks_file() {
        assert!(Moment::WORDS.iter().all(|word| Moment::of(word).is_some()));
    }
}
