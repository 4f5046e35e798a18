//! The tables of a rule book and their keys.

use super::field::{
    Field,
    Kind::{
        Count, Date, Defines, DefinesSome, Degrees, Flag, Names, NamesSome, Numbers, OneOf, Points,
        PointsList, Seconds, SomeOf, Span, Table, Tables, Text, Texts,
    },
    Many,
    Need::{Optional, Required},
    Space, TableSpec,
};

/// The tables of a rule book in the order in which they are read best.
pub const TABLES: &[TableSpec] = &[
    TableSpec { key: "book", many: Many::One, help: "Which book this is.", fields: BOOK },
    TableSpec {
        key: "division",
        many: Many::Any,
        help: "A level of the programme, easiest first.",
        fields: DIVISION,
    },
    TableSpec { key: "event", many: Many::Any, help: "An apparatus.", fields: EVENT },
    TableSpec {
        key: "class",
        many: Many::Any,
        help: "A class of elements, lowest first.",
        fields: CLASS,
    },
    TableSpec {
        key: "scoring",
        many: Many::Any,
        help: "How the score of an event is built.",
        fields: SCORING,
    },
    TableSpec {
        key: "value_parts",
        many: Many::Any,
        help: "How many elements of each class a routine needs.",
        fields: VALUE_PARTS,
    },
    TableSpec {
        key: "requirement",
        many: Many::Any,
        help: "Something a routine must show.",
        fields: REQUIREMENT,
    },
    TableSpec { key: "angle", many: Many::Any, help: "What is asked of an angle.", fields: ANGLE },
    TableSpec {
        key: "fault",
        many: Many::Any,
        help: "A fault that a judge writes down.",
        fields: FAULT,
    },
    TableSpec {
        key: "when",
        many: Many::Any,
        help: "What follows from a fall, a spot, an extra swing, a stop, a contact, a landing.",
        fields: WHEN,
    },
    TableSpec {
        key: "replace",
        many: Many::Any,
        help: "A rule that stands in the place of others at the same element.",
        fields: REPLACE,
    },
    TableSpec {
        key: "cap",
        many: Many::Any,
        help: "A limit on what a group of rules can cost.",
        fields: CAP,
    },
    TableSpec {
        key: "merge",
        many: Many::Any,
        help: "Small faults of one rule that together make a larger one at the same element.",
        fields: MERGE,
    },
    TableSpec {
        key: "too_many",
        many: Many::Any,
        help: "Elements that may be shown only so often.",
        fields: TOO_MANY,
    },
    TableSpec {
        key: "too_few",
        many: Many::Any,
        help: "What an exercise with too few different elements costs.",
        fields: TOO_FEW,
    },
    TableSpec { key: "time", many: Many::Any, help: "A limit of time.", fields: TIME },
    TableSpec {
        key: "bonus",
        many: Many::Any,
        help: "Something that adds to the score.",
        fields: BONUS,
    },
    TableSpec {
        key: "attempts",
        many: Many::Any,
        help: "How the scores of several attempts become one.",
        fields: ATTEMPTS,
    },
    TableSpec {
        key: "panel",
        many: Many::Any,
        help: "How the scores of several judges become one.",
        fields: PANEL,
    },
    TableSpec {
        key: "element",
        many: Many::Any,
        help: "A skill that has a name; a vault carries its own value.",
        fields: ELEMENT,
    },
];

const fn must(key: &'static str, kind: super::field::Kind, help: &'static str) -> Field {
    Field { key, kind, need: Required, help }
}

const fn may(key: &'static str, kind: super::field::Kind, help: &'static str) -> Field {
    Field { key, kind, need: Optional, help }
}

const EVENTS: Field =
    may("events", NamesSome(Space::Event), "Events it holds on; all when left out.");
const DIVISIONS: Field =
    may("divisions", NamesSome(Space::Division), "Divisions it holds in; all when left out.");
const LABEL: Field = must("label", Text, "Its name as it stands on the sheet.");
const SHORTHAND: Field = may("shorthand", Text, "How a judge writes it.");
const WHERE: Field = may("where", Text, "Page in the club's own printed book.");
const COUNTS: Field = may("counts", OneOf(COUNTS_WORDS), "How often the amount is taken.");
const GROUP: Field = may("group", DefinesSome(Space::Group), "Group for a cap.");
const REMOVES: Field = may("removes", SomeOf(CREDITS), "Credit that the element loses.");

/// Words for how often an amount is taken.
pub const COUNTS_WORDS: &[&str] = &["each", "once-per-element", "once"];
/// Words for kinds of credit.
pub const CREDITS: &[&str] = &["value-part", "requirement", "connection"];
/// Words for consequences; an amount is written as `amount`.
pub const CONSEQUENCES: &[&str] = &["no-credit", "amount", "void"];
/// Words for body parts, as in the marks file.
pub const BODY_PARTS: &[&str] = &["head", "back", "seat", "hips", "knees", "feet", "hand", "body"];
/// Words for phases, as in the marks file.
pub const PHASES: &[&str] = &["first_flight", "support", "second_flight", "landing"];
/// Words for quantities, as in the marks file.
pub const QUANTITIES: &[&str] =
    &["body-line", "repulsion", "off-vertical", "split", "kick", "turn"];
/// Words for moments, as in the marks file.
pub const MOMENTS: &[&str] = &["hand_contact", "hand_release", "heel_lift", "heel_drop", "landing"];

const BOOK: &[Field] = &[
    must("id", Text, "Short name that marks files keep."),
    must("title", Text, "Name of the programme."),
    must("edition", Text, "Edition, as printed on the book."),
    may("valid_from", Date, "First day on which it holds."),
    may("valid_to", Date, "Last day on which it holds."),
    may(
        "open_calls",
        OneOf(&["for-the-athlete", "as-measured"]),
        "How an open call counts in the score; the range shows both ways.",
    ),
    may(
        "like",
        Text,
        "A book that this one is like, except for what stands here: shipped, or a file beside it.",
    ),
    may("without", Texts, "Ids of that book that are left out."),
    may("note", Text, "Anything to say about the book."),
];

const DIVISION: &[Field] = &[
    must("id", Defines(Space::Division), "Short name."),
    must("name", Text, "Its name."),
    may("highest_class", Names(Space::Class), "Elements above this class are not allowed."),
    may("like", Names(Space::Division), "Takes the numbers of this division that it does not set."),
    may("numbers", Numbers, "Numbers that rules call by name, such as leap = 100."),
];

const EVENT: &[Field] = &[
    must("id", Defines(Space::Event), "Short name: vault, bars, beam, floor."),
    must("name", Text, "Its name."),
    DIVISIONS,
];

const CLASS: &[Field] = &[
    must("id", Defines(Space::Class), "Short name."),
    must("name", Text, "Its name."),
    may("value", Points, "Worth of one element, for books that add elements up."),
];

const SCORING: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must(
        "formula",
        OneOf(&["start-minus", "start-minus-half", "buckets", "open"]),
        "How the score is built.",
    ),
    may("start", Points, "Start value before anything is missing; a vault brings its own."),
    may("floor", Points, "The score is never lower than this unless it is void."),
    may("ceiling", Points, "The score is never higher than this."),
    may(
        "buckets",
        Table(&[
            must("value_parts", Points, "Full bucket of value parts."),
            must("requirements", Points, "Full bucket of requirements."),
            must("artistry", Points, "Full bucket of artistry."),
            must("execution", Points, "Full bucket of execution."),
        ]),
        "The four buckets of the formula \"buckets\".",
    ),
    may("execution", Points, "Execution before deductions, for the formula \"open\"."),
    may("best", Count, "How many elements count, for the formula \"open\"."),
    may(
        "limits",
        Tables(&[
            must("tags", NamesSome(Space::Tag), "Elements with one of these tags."),
            may("at_most", Count, "At most so many of them count."),
            may("at_least", Count, "So many of the places are kept for them."),
        ]),
        "Which elements may be among the best.",
    ),
    may("sharing", OneOf(&["many", "one"]), "How many requirements one element may serve."),
    may(
        "same_counts",
        Count,
        "How often the same element counts as a value part; 1 when left out.",
    ),
    may("not_allowed", OneOf(CONSEQUENCES), "What an element not allowed brings."),
    may("not_allowed_amount", Points, "The amount for \"not_allowed\"."),
    may("unlisted_vault", OneOf(CONSEQUENCES), "What a vault outside the list brings."),
    may("unlisted_vault_amount", Points, "The amount for \"unlisted_vault\"."),
    may("not_as_announced", OneOf(CONSEQUENCES), "What a vault other than announced brings."),
    may("not_as_announced_amount", Points, "The amount for \"not_as_announced\"."),
];

const VALUE_PARTS: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must(
        "need",
        Tables(&[
            must("class", Names(Space::Class), "Class of the elements."),
            must("count", Count, "How many."),
            must("price", Points, "What each missing one costs."),
        ]),
        "Class by class.",
    ),
    may(
        "higher_replaces",
        Flag,
        "Whether a higher class may fill a lower place; true when left out.",
    ),
    WHERE,
];

const REQUIREMENT: &[Field] = &[
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
    may("connected", Flag, "Whether its elements must follow one another directly."),
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
    may("asks", NamesSome(Space::Angle), "Angle rules that an element must meet to serve it."),
    may("each", Flag, "Whether each missing element costs the price, or all of them once."),
    WHERE,
];

const ANGLE: &[Field] = &[
    must("id", Defines(Space::Angle), "Short name, which a person's call names."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    may("elements", NamesSome(Space::Element), "Elements that it asks of."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags are asked."),
    must("quantity", OneOf(QUANTITIES), "What is measured."),
    may("moment", Text, "On which picture it is measured."),
    must("target", Degrees, "What it asks for."),
    must(
        "side",
        OneOf(&["at-least", "above", "at-most", "below"]),
        "On which side of the target it is met, and whether the target itself does.",
    ),
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

const FAULT: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name, which marks files keep."),
    LABEL,
    SHORTHAND,
    EVENTS,
    DIVISIONS,
    may("amount", Points, "What it always costs."),
    may("up_to", Points, "The most it costs; the judge chooses."),
    may("grid", Points, "Steps of what the judge chooses; 0.1 when left out."),
    may("choice", PointsList, "The amounts that the judge chooses from."),
    COUNTS,
    REMOVES,
    GROUP,
    WHERE,
];

const WHEN: &[Field] = &[
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
    may("amount", Points, "What it costs."),
    may("void", Flag, "Whether the exercise counts nothing."),
    COUNTS,
    REMOVES,
    GROUP,
    WHERE,
];

const REPLACE: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must("rule", Names(Space::Rule), "The rule that stays."),
    must("drops", NamesSome(Space::Rule), "The rules that go."),
];

const CAP: &[Field] = &[
    must("id", Text, "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    may("group", NamesSome(Space::Group), "The rules it limits; all when left out."),
    must("at_most", Points, "The limit."),
    may("per", OneOf(&["element", "exercise"]), "Over what; the exercise when left out."),
    may("lifted_by", NamesSome(Space::Rule), "Rules that lift the limit."),
    WHERE,
];

const MERGE: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must("rule", Names(Space::Rule), "The rule."),
    must("of", Points, "The small amount."),
    must("count", Count, "How many of them."),
    must("into", Points, "The amount that they make."),
];

const TOO_MANY: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    may("elements", NamesSome(Space::Element), "Which elements."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags."),
    must("at_most", Count, "How often they may be shown."),
    must("amount", Points, "What each one more costs."),
    WHERE,
];

const TOO_FEW: &[Field] = &[
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
    WHERE,
];

const TIME: &[Field] = &[
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
    may("amount", Points, "What it costs."),
    may("void", Flag, "Whether the exercise counts nothing."),
    GROUP,
    WHERE,
];

const BONUS: &[Field] = &[
    must("id", Defines(Space::Rule), "Short name."),
    LABEL,
    EVENTS,
    DIVISIONS,
    may("elements", NamesSome(Space::Element), "Elements that earn it."),
    may("tags", NamesSome(Space::Tag), "Elements with one of these tags earn it."),
    must("amount", Points, "What it adds."),
    may("at_most", Count, "How often it is given; 1 when left out."),
    may("unless", NamesSome(Space::Rule), "Rules that take it away at the same element."),
    WHERE,
];

const ATTEMPTS: &[Field] = &[
    EVENTS,
    DIVISIONS,
    must("take", OneOf(&["best", "mean", "sum"]), "The best, the mean, or all added up."),
    may("digits", Count, "Decimals of a mean; 3 when left out."),
    may("rounding", OneOf(&["cut", "nearest"]), "What happens to further decimals; cut."),
];

const PANEL: &[Field] = &[
    EVENTS,
    DIVISIONS,
    may("combine", OneOf(&["mean", "drop-ends"]), "Which scores count; all when left out."),
    may("digits", Count, "Decimals of the result; 3 when left out."),
    may("rounding", OneOf(&["cut", "nearest"]), "What happens to further decimals; cut."),
    may(
        "allowed",
        Tables(&[
            must("from", Points, "From this average on."),
            must("difference", Points, "The scores may differ by this much."),
        ]),
        "Differences between judges that are allowed.",
    ),
    may(
        "beyond",
        OneOf(&["confer", "average"]),
        "What happens when a panel is farther than that from a reference score; confer.",
    ),
];

const ELEMENT: &[Field] = &[
    must("id", Defines(Space::Element), "Short name, which marks files keep."),
    must("name", Text, "Its name."),
    must("event", Names(Space::Event), "Event it belongs to."),
    may("class", Names(Space::Class), "Its class; left out when it is never a value part."),
    SHORTHAND,
    may("code", Text, "Its code in the club's own printed book."),
    may("tags", DefinesSome(Space::Tag), "What requirements and rules call it by."),
    may("family", Defines(Space::Family), "Elements of one family are the same element."),
    DIVISIONS,
    may("moments", SomeOf(MOMENTS), "Marks it asks for beside its own."),
    may("pair", Names(Space::Element), "The element it makes one value part with."),
    may("becomes", Names(Space::Element), "What it counts as where an angle takes its credit."),
    may("value", Points, "Its worth, for books that add elements up."),
    may(
        "vault",
        Table(&[
            must("value", Points, "Start value."),
            may("before", Span, "Turn before the hands; 0 when left out."),
            may("after", Span, "Turn after the hands; any when left out."),
            may("facing", OneOf(&["away", "towards", "side"]), "Facing the apparatus at landing."),
        ]),
        "What identifies it as a vault.",
    ),
    WHERE,
];
