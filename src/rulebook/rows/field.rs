//! How a table of a rule book is described: the one description that reading, nearest names and
//! the printed reference of keys are made from.

/// One kind of table in a book, written as `[[key]]` or once as `[key]`.
#[derive(Debug)]
pub(crate) struct TableSpec {
    /// Its key at the top of the file.
    pub key: &'static str,
    /// Whether there may be many.
    pub many: Many,
    /// What it is for, in one sentence.
    pub help: &'static str,
    /// Its keys.
    pub fields: &'static [Field],
}

/// Whether a table is written once or as a list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Many {
    /// `[key]`.
    One,
    /// `[[key]]`, any number.
    Any,
}

/// One key of a table.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field {
    /// The key.
    pub key: &'static str,
    /// What its value must be.
    pub kind: Kind,
    /// Whether it may be left out.
    pub need: Need,
    /// What it means, in one sentence.
    pub help: &'static str,
}

/// Whether a key may be left out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Need {
    /// It must be there.
    Required,
    /// It may be left out.
    Optional,
}

/// What a value must be.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Kind {
    /// Any text.
    Text,
    /// A list of any texts, or one of them.
    Texts,
    /// A date, as text or bare: 2026-01-31.
    Date,
    /// true or false.
    Flag,
    /// An amount in points.
    Points,
    /// An angle in degrees.
    Degrees,
    /// A time in seconds.
    Seconds,
    /// A whole number, 0 or more.
    Count,
    /// A plain number with up to three decimals, 0 or more.
    Number,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// A list of these words, or one of them.
    SomeOf(&'static [&'static str]),
    /// A list of amounts.
    PointsList,
    /// One or two whole numbers: exactly this, or from this to that.
    Span,
    /// A new name in this space.
    Defines(Space),
    /// A name of this space.
    Names(Space),
    /// A name of this space, or a table of names by division.
    NameByDivision(Space),
    /// A list of names of this space, or one of them.
    NamesSome(Space),
    /// A list of words that others may name later, or one of them.
    DefinesSome(Space),
    /// A table with these keys.
    Table(&'static [Field]),
    /// A list of tables with these keys.
    Tables(&'static [Field]),
    /// A table of numbers by free names.
    Numbers,
}

/// A set of names that are looked up in each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Space {
    /// Division ids.
    Division,
    /// Event ids.
    Event,
    /// Class ids.
    Class,
    /// Element ids.
    Element,
    /// Tags of elements.
    Tag,
    /// Families of elements; any word.
    Family,
    /// Ids of angle rules.
    Angle,
    /// Ids of requirements.
    Requirement,
    /// Ids of rules that take an amount: faults, whens, angles.
    Rule,
    /// Groups of rules.
    Group,
}

impl Space {
    /// Returns what one name of the space stands for.
    pub(crate) const fn word(self) -> &'static str {
        match self {
            Self::Division => "division",
            Self::Event => "event",
            Self::Class => "class",
            Self::Element => "element",
            Self::Tag => "tag",
            Self::Family => "family",
            Self::Angle => "angle rule",
            Self::Requirement => "requirement",
            Self::Rule => "rule",
            Self::Group => "group",
        }
    }
}
