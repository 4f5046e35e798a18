//! Keys of what limits amounts or stands in their place.

use crate::rulebook::rows::field::{
    Field,
    Kind::{Count, Flag, Names, NamesSome, OneOf, Points, Text},
    Space,
};

use super::common::{DIVISIONS, EVENTS, LABEL, WHERE, may, must};

/// Keys of `[[replace]]`.
pub(crate) const REPLACE: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must("rule", Names(Space::Rule), "The rule that stays."),
    must("drops", NamesSome(Space::Rule), "The rules that go."),
];

/// Keys of `[[cap]]`.
pub(crate) const CAP: &[Field] = &[
    must("id", Text, "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    may("group", NamesSome(Space::Group), "The rules it limits; all when left out."),
    must("at_most", Points, "The limit."),
    may("plus_value", Flag, "Of one element: whether its own worth is added to the limit."),
    may("per", OneOf(&["phase", "element", "exercise"]), "Over what; the exercise when left out."),
    may("lifted_by", NamesSome(Space::Rule), "Rules that lift the limit."),
    WHERE,
];

/// Keys of `[[merge]]`.
pub(crate) const MERGE: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must("rule", Names(Space::Rule), "The rule."),
    must("of", Points, "The small amount."),
    must("count", Count, "How many of them."),
    must("into", Points, "The amount that they make."),
];
