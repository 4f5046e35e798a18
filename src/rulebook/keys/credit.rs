//! Keys of what a routine must show, and of what adds to its score.

use crate::rulebook::rows::field::{
    Field,
    Kind::{Count, Defines, Flag, NamesSome, Number, OneOf, Points, Tables, Text, Texts},
    Space,
};

use super::common::{
    BREAKS, DIVISIONS, EVENTS, GAP, LABEL, LINKS, NEUTRAL, SHORTHAND, WHERE, may, must,
};

/// Keys of `[[requirement]]`.
pub(crate) const REQUIREMENT: &[Field] = &[
    must("id", Defines(Space::Requirement), "Short name."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    must("price", Points, "What it costs when missing."),
    may("count", Count, "How many elements it takes; 1 when left out."),
    may("elements", NamesSome(Space::Element), "Elements that serve it."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags serve it."),
    may("classes", NamesSome(Space::Class), "Only elements of these classes serve it."),
    may("except", NamesSome(Space::Tag), "Elements with one of these tags never serve it."),
    may("distinct", Flag, "Whether the same element counts once; true when left out."),
    may("each_tag", Flag, "Whether each of the tags counts once, as in \"two of three groups\"."),
    may("with", NamesSome(Space::Tag), "At least one of its elements has one of these tags."),
    may("place", OneOf(&["first", "last"]), "Whether only the first or last element serves it."),
    may(
        "apart_from",
        NamesSome(Space::Requirement),
        "Requirements whose elements do not serve this one, nor the same ones in the same order.",
    ),
    may("connected", Flag, "Whether its elements must follow one another."),
    LINKS,
    BREAKS,
    GAP,
    may(
        "only_first",
        NamesSome(Space::Tag),
        "Elements with these tags count only as the first of a connected series.",
    ),
    may(
        "only_last",
        NamesSome(Space::Tag),
        "Elements with these tags count only as the last of a connected series.",
    ),
    may(
        "asks",
        NamesSome(Space::Angle),
        "Angle rules that an element must meet to serve it; with \"with\", only one of that tag.",
    ),
    may("each", Flag, "Whether each missing element costs the price, or all of them once."),
    WHERE,
];

/// Keys of `[[bonus]]`.
pub(crate) const BONUS: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    may("elements", NamesSome(Space::Element), "Elements that earn it."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags earn it."),
    may("fact", Text, "A fact of the attempt that earns it, in place of elements."),
    may("is", Texts, "Of a fact: the values that earn it."),
    must("amount", Points, "What it adds."),
    may("at_most", Count, "How often it is given; 1 when left out."),
    may("unless", NamesSome(Space::Rule), "Rules that take it away at the same element."),
    WHERE,
];

/// Keys of `[[too_few]]`.
pub(crate) const TOO_FEW: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    must(
        "steps",
        Tables(&[
            must("below", Count, "Fewer different elements than this."),
            must("amount", Points, "What it costs."),
        ]),
        "From most elements to fewest; the last that fits counts.",
    ),
    NEUTRAL,
    WHERE,
];

/// Keys of `[[connection]]`.
pub(crate) const CONNECTION: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    must("series", NamesSome(Space::Tag), "A tag for each element, in their order."),
    may("any_order", Flag, "Whether they may come in any order."),
    LINKS,
    BREAKS,
    GAP,
    must("amount", Points, "What it adds."),
    may("at_most", Count, "How often it is given; without limit when left out."),
    WHERE,
];

/// Keys of `[[text]]`.
pub(crate) const TEXT: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    must("elements", NamesSome(Space::Element), "Its elements in their order."),
    may("left_out", Points, "What an element left out costs."),
    may("left_out_value", Number, "And how many times its own worth."),
    may("added", Points, "What an element that is not in the text costs."),
    may("swapped", Points, "What an element in another place of the order costs."),
    NEUTRAL,
    WHERE,
];
