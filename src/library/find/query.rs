//! The language of searches: what can be said, as a tree.

use jiff::civil::Date;

/// A search.
#[derive(Clone, Debug, PartialEq)]
pub enum Query {
    /// All of these.
    All(Vec<Query>),
    /// At least one of these.
    Any(Vec<Query>),
    /// Not this.
    Not(Box<Query>),
    /// One condition.
    Term(Term),
}

/// One condition on a routine.
#[derive(Clone, Debug, PartialEq)]
pub enum Term {
    /// What the routine is, exactly.
    Is(QueryField, String),
    /// An element by its id or a part of its name.
    Element(String),
    /// A kind of mark.
    Moment(String),
    /// A requirement by its id or a part of its name, and how it came out.
    Requirement(String, Option<QueryOutcome>),
    /// Something taken off: by rule or a part of its name, and in which amount.
    Fault(Option<String>, QueryRange),
    /// The score, in points.
    Score(QueryRange),
    /// Something measured: by quantity, or by the element it was measured at; in its unit.
    Angle(String, QueryRange),
    /// The date of the performance.
    Date(Option<Date>, Option<Date>),
    /// Something that is so or not.
    Flag(QueryFlag),
    /// What the gate allows today: `pictures` or `sets`, and for which purpose.
    Allowed(&'static str, String),
    /// A word, or several in a row.
    Words(String),
}

/// What of a routine is compared exactly.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names are the fields themselves")]
pub enum QueryField {
    Event,
    Division,
    Athlete,
    Judge,
    Book,
    Edition,
}

/// How a requirement came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[expect(missing_docs, reason = "the names are the outcomes themselves")]
pub enum QueryOutcome {
    Met,
    Missed,
    Close,
}

/// Something that is so or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum QueryFlag {
    /// It is void.
    Void,
    /// There is a close call.
    Close,
    /// A reference is agreed on.
    Agreed,
    /// There is a reference, by one judge alone or agreed on.
    Reference,
    /// Somebody marked, read or called anything.
    Marked,
    /// It has no clip because it is planned.
    Planned,
    /// Its clip is gone.
    Gone,
    /// Its clip is out of reach.
    Away,
    /// Its clip was altered since it was marked or noted.
    Altered,
    /// Its clip is there more than once.
    Duplicate,
    /// Its clip is to be deleted by today.
    Due,
}

/// A range of numbers, in the quantity's unit or points as the condition says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum QueryRange {
    /// Anything.
    Any,
    /// From one to the other, both included.
    Between(f64, f64),
    /// So far from a number or a direction at most.
    Within(f64, Edge),
    /// More than.
    Above(f64),
    /// Less than.
    Below(f64),
    /// This or more.
    AtLeast(f64),
    /// This or less.
    AtMost(f64),
}

/// A number or a direction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Edge {
    /// A number.
    Number(f64),
    /// Level.
    Horizontal,
    /// Plumb.
    Vertical,
}

/// The outcomes by the words they are searched for.
pub(crate) const OUTCOMES: [(&str, QueryOutcome); 3] =
    [("met", QueryOutcome::Met), ("missed", QueryOutcome::Missed), ("close", QueryOutcome::Close)];

impl QueryRange {
    /// Returns the amount in thousandths that stands for a number of points.
    pub fn thousandths(points: f64) -> i64 {
        (points * f64::from(1000)).round() as i64
    }

    /// Returns whether the range says nothing.
    pub(crate) fn is_any(self) -> bool {
        self == Self::Any
    }
}

/// One form of condition, for help, completion and the manual.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct QueryForm {
    /// The word it begins with; empty where a name comes first.
    pub word: &'static str,
    /// How it is written.
    pub form: &'static str,
    /// What it finds.
    pub finds: &'static str,
    /// An example that can be typed as it is.
    pub example: &'static str,
}

/// Every form of condition, in the order of the manual.
pub const FORMS: &[QueryForm] = &[
    form("event", "event ID", "routines on an event", "event beam"),
    form("division", "division ID", "routines of a division", "division redshank"),
    form(
        "athlete",
        "athlete CODE",
        "routines of an athlete, and clips on which she is filmed",
        "athlete SC-07",
    ),
    form("judge", "judge CODE", "what a judge marked", "judge J-2"),
    form("book", "book ID", "what was judged under a rule book", "book saltmarsh"),
    form("edition", "edition ID", "what was judged under an edition", "edition 2026.1"),
    form("element", "element NAME", "an element, by its id or a part of its name", "element leap"),
    form(
        "moment",
        "moment KIND",
        "a kind of mark: fall, spot, stop, swing, contact, landing, hand-contact, hand-release, heel-lift, heel-drop",
        "moment heel-drop",
    ),
    form(
        "requirement",
        "requirement NAME [met|missed|close]",
        "a requirement, by its id or a part of its name",
        "requirement cast missed",
    ),
    form("fault", "fault [NAME] [RANGE]", "something taken off, in points", "fault above 0.3"),
    form("score", "score RANGE", "the score, in points", "score 8.5 to 9"),
    form(
        "",
        "NAME RANGE",
        "an angle in degrees, a length in metres or knees in shoulder widths, by what was measured or \
         the element it was measured at",
        "cast within 5 of horizontal",
    ),
    form(
        "date",
        "date DAY|MONTH|YEAR [to ...], date before DAY, date after DAY",
        "when it was performed",
        "date 2026-10 to 2026-11",
    ),
    form("void", "void", "void routines", "void"),
    form("close", "close", "routines with a close call", "close"),
    form("agreed", "agreed", "marks on which a reference stands that several agreed on", "agreed"),
    form(
        "reference",
        "reference",
        "marks on which a reference stands, also one judge's alone",
        "reference",
    ),
    form(
        "marked",
        "marked",
        "routines that somebody marked; \"not marked\" finds clips still to do",
        "not marked",
    ),
    form("planned", "planned", "routines without a clip", "planned"),
    form("gone", "gone", "routines whose clip is gone", "gone"),
    form("away", "away", "clips out of reach, as on a disk that is not plugged in", "away"),
    form(
        "altered",
        "altered",
        "clips that were altered since they were marked or noted",
        "altered",
    ),
    form("duplicate", "duplicate", "clips that are there more than once", "duplicate"),
    form("due", "due", "clips to be deleted by today", "due"),
    form(
        "pictures",
        "pictures PURPOSE",
        "clips that may leave with pictures for training, library, course or publication",
        "pictures course",
    ),
    form("sets", "sets PURPOSE", "clips that may be in a set for such a purpose", "sets training"),
];

const fn form(
    word: &'static str,
    form: &'static str,
    finds: &'static str,
    example: &'static str,
) -> QueryForm {
    QueryForm { word, form, finds, example }
}
