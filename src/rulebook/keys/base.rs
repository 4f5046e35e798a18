//! Keys of what a book is about: itself, its divisions, events, classes, elements.

use crate::rulebook::rows::field::{
    Field,
    Kind::{
        Date, Defines, DefinesSome, Names, NamesSome, Numbers, OneOf, Points, SomeOf, Span, Table,
        Text, Texts,
    },
    Space,
};

use super::common::{DIVISIONS, MOMENTS, SHORTHAND, WHERE, may, must};

/// Keys of `[book]`.
pub(crate) const BOOK: &[Field] = &[
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

/// Keys of `[[division]]`.
pub(crate) const DIVISION: &[Field] = &[
    must("id", Defines(Space::Division), "Short name."),
    must("name", Text, "Its name."),
    may("highest_class", Names(Space::Class), "Elements above this class are not allowed."),
    may("like", Names(Space::Division), "Takes the numbers of this division that it does not set."),
    may("numbers", Numbers, "Numbers that rules call by name, such as leap = 100."),
];

/// Keys of `[[event]]`.
pub(crate) const EVENT: &[Field] = &[
    must("id", Defines(Space::Event), "Short name: vault, bars, beam, floor."),
    must("name", Text, "Its name."),
    DIVISIONS,
];

/// Keys of `[[class]]`.
pub(crate) const CLASS: &[Field] = &[
    must("id", Defines(Space::Class), "Short name."),
    must("name", Text, "Its name."),
    may("value", Points, "Worth of one element, for books that add elements up."),
];

/// Keys of `[[element]]`.
pub(crate) const ELEMENT: &[Field] = &[
    must("id", Defines(Space::Element), "Short name, which marks files keep."),
    must("name", Text, "Its name."),
    must("event", Names(Space::Event), "Event it belongs to."),
    may("class", Names(Space::Class), "Its class; left out when it is never a value part."),
    SHORTHAND,
    may("code", Text, "Its code in the club's own printed book."),
    may("tags", DefinesSome(Space::Tag), "What requirements and rules call it by."),
    may("family", Defines(Space::Family), "Elements of one family are the same element."),
    DIVISIONS,
    may(
        "selected",
        NamesSome(Space::Division),
        "Divisions that may use it although its class is above theirs.",
    ),
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
