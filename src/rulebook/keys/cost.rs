//! Keys of what takes an amount: angles, faults, marks, times.

use crate::rulebook::rows::field::{
    Field,
    Kind::{
        Count, Defines, Degrees, Flag, NamesSome, Number, OneOf, Points, PointsList, Seconds,
        SomeOf, Table, Tables, Text, Texts,
    },
    Space,
};

use super::common::{
    BODY_PARTS, COUNTS, CREDITS, DIVISIONS, EVENTS, GROUP, LABEL, NEUTRAL, PHASES, QUANTITIES,
    REMOVES, SHORTHAND, VOID, WHERE, may, must,
};

const DECIDES: &[&str] = &["turning-foot", "front-foot", "hips-and-shoulders"];
const ENDS: &[&str] = &["first-heel-drop", "free-foot-down", "second-hand"];

/// Keys of `[[angle]]`.
pub(crate) const ANGLE: &[Field] = &[
    must("id", Defines(Space::Angle), "Short name, which a person's call names."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    may("elements", NamesSome(Space::Element), "Elements that it asks of."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags are asked."),
    must("quantity", OneOf(QUANTITIES), "What is measured."),
    may("moment", Text, "On which picture it is measured."),
    must("target", Degrees, "What it asks for; of lengths in metres, of knees in shoulder widths."),
    must(
        "side",
        OneOf(&["at-least", "above", "at-most", "below"]),
        "On which side of the target it is met, and whether the target itself does.",
    ),
    may(
        "round_to",
        Degrees,
        "The angle is rounded to the nearest of these steps before it is held against anything.",
    ),
    may("decides", OneOf(DECIDES), "Of a turn, needed: what tells how far it went."),
    may("ends", OneOf(ENDS), "Of a turn: what ends it; the first heel drop when left out."),
    may("gates", SomeOf(CREDITS), "Credit that is lost when it is not met."),
    may("gate_within", Degrees, "Credit is kept while short by no more than this."),
    may(
        "bands",
        Tables(&[
            may(
                "over",
                Degrees,
                "Short by more than this; where the band before ends when left out.",
            ),
            may("up_to", Degrees, "Short by up to this; without end when left out."),
            may("inclusive", Flag, "Whether up_to itself belongs here; true when left out."),
            may("amount", Points, "What it costs."),
            may(
                "proportional",
                Table(&[
                    must("from", Points, "Amount at the beginning of the band."),
                    must("to", Points, "Amount at its end."),
                    must("grid", Points, "Steps of the amount."),
                ]),
                "An amount that grows through the band.",
            ),
        ]),
        "Deductions by how far it is short.",
    ),
    COUNTS,
    GROUP,
    WHERE,
];

/// Keys of `[[fault]]`.
pub(crate) const FAULT: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name, which marks files keep."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    may("amount", Points, "What it always costs."),
    may("up_to", Points, "The most it costs; the judge chooses."),
    may("grid", Points, "Steps of what the judge chooses; 0.1 when left out."),
    may("choice", PointsList, "The amounts that the judge chooses from."),
    may("means", Texts, "What each amount of the choice stands for, such as small or one foot."),
    may("of_value", Number, "How many times the worth of its element it costs."),
    VOID,
    COUNTS,
    REMOVES,
    NEUTRAL,
    GROUP,
    WHERE,
];

/// Keys of `[[when]]`.
pub(crate) const WHEN: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    must(
        "mark",
        OneOf(&["fall", "spot", "swing", "stop", "contact", "landing", "fact"]),
        "The mark that brings it about.",
    ),
    may("after", NamesSome(Space::Tag), "Of a swing: tags of the element that it follows."),
    may("parts", SomeOf(BODY_PARTS), "Of a contact: which parts; any when left out."),
    may(
        "phases",
        SomeOf(PHASES),
        "Of a contact or help on a vault: in which phases; any when left out.",
    ),
    may("manners", SomeOf(&["brush", "support"]), "Of a contact: brushed or bore weight."),
    may("on", SomeOf(&["feet", "apparatus", "body"]), "Of a landing: what the athlete landed on."),
    may("fact", Text, "Of a fact of the attempt: its name, such as board or mat."),
    may("is", Texts, "Of a fact: the values that bring the rule about."),
    may("below", Number, "Of a fact that is a number: below this it brings the rule about."),
    may("above", Number, "Of a fact that is a number: above this it brings the rule about."),
    may("amount", Points, "What it costs."),
    VOID,
    COUNTS,
    REMOVES,
    NEUTRAL,
    GROUP,
    WHERE,
];

/// Keys of `[[time]]`.
pub(crate) const TIME: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    must(
        "of",
        OneOf(&["exercise", "fall", "stop", "element"]),
        "What is timed, from the first to the last frame of its span.",
    ),
    may("elements", NamesSome(Space::Element), "Of an element: which."),
    may("tags", NamesSome(Space::Tag), "Of an element: those with one of these tags."),
    may("at_least", Seconds, "Shorter than this costs."),
    may("at_most", Seconds, "Longer than this costs."),
    may("warn_at", Seconds, "When a signal is given; it stands on the card."),
    may("amount", Points, "What it costs."),
    VOID,
    may("removes", SomeOf(CREDITS), "Of an element: credit that it loses."),
    NEUTRAL,
    GROUP,
    WHERE,
];

/// Keys of `[[too_many]]`.
pub(crate) const TOO_MANY: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    may("elements", NamesSome(Space::Element), "Which elements."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags."),
    may("classes", NamesSome(Space::Class), "Elements of one of these classes."),
    must("at_most", Count, "How often they may be shown; 0 when they are forbidden."),
    may("amount", Points, "What each one more costs."),
    VOID,
    WHERE,
];
