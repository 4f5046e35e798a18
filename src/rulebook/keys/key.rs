//! One key of a table: what its value must be, and what is read from it.

use crate::{
    rulebook::rows::{Field, Findings, Kind, Need, Row, Space},
    units::{Magnitude, Points},
};

use super::{part::Part, word::Word};

/// What a value must be, and how it becomes a `T`; nothing where the key is not there.
pub(crate) struct Form<T> {
    kind: Kind,
    read: fn(&Row, &'static str, &mut Findings<'_>) -> Option<T>,
}

impl<T> Form<T> {
    /// Returns the value of the key; nothing where it is not there.
    pub(crate) fn value(
        &self,
        row: &Row,
        key: &'static str,
        findings: &mut Findings<'_>,
    ) -> Option<T> {
        (self.read)(row, key, findings)
    }
}

/// A key with its form and its sentence of help.
pub(crate) struct Key<T> {
    field: Field,
    form: Form<T>,
}

impl<T> Key<T> {
    /// Returns a key that must be there.
    pub(crate) const fn must(key: &'static str, form: Form<T>, help: &'static str) -> Self {
        Self { field: Field { key, kind: form.kind, need: Need::Required, help }, form }
    }

    /// Returns a key that may be left out.
    pub(crate) const fn may(key: &'static str, form: Form<T>, help: &'static str) -> Self {
        Self { field: Field { key, kind: form.kind, need: Need::Optional, help }, form }
    }

    /// Returns its description.
    pub(crate) const fn fields(&self) -> [Field; 1] {
        [self.field]
    }

    /// Returns its value; nothing where it is not there.
    pub(crate) fn value(&self, row: &Row, findings: &mut Findings<'_>) -> Option<T> {
        self.form.value(row, self.field.key, findings)
    }
}

/// What becomes of a value that may not be there: an option keeps that, anything else has a
/// value for it.
pub(crate) trait Settle<T> {
    /// Returns it from what is written.
    fn settle(written: Option<T>) -> Self;
}

impl<T: Default> Settle<T> for T {
    fn settle(written: Option<T>) -> Self {
        written.unwrap_or_default()
    }
}

impl<T> Settle<T> for Option<T> {
    fn settle(written: Self) -> Self {
        written
    }
}

/// Any text.
pub(crate) const fn text() -> Form<String> {
    texted(Kind::Text)
}

/// A date.
pub(crate) const fn date() -> Form<String> {
    texted(Kind::Date)
}

/// A new name in this space.
pub(crate) const fn defines(space: Space) -> Form<String> {
    texted(Kind::Defines(space))
}

/// A name of this space.
pub(crate) const fn names(space: Space) -> Form<String> {
    texted(Kind::Names(space))
}

const fn texted(kind: Kind) -> Form<String> {
    Form { kind, read: |row, key, _| row.has(key).then(|| row.text(key)) }
}

/// Any texts.
pub(crate) const fn texts() -> Form<Vec<String>> {
    listed(Kind::Texts)
}

/// A name of this space, which may differ by division.
pub(crate) const fn name_by_division(space: Space) -> Form<String> {
    texted(Kind::NameByDivision(space))
}

/// Names of this space.
pub(crate) const fn names_some(space: Space) -> Form<Vec<String>> {
    listed(Kind::NamesSome(space))
}

/// Words of this space that others may name.
pub(crate) const fn defines_some(space: Space) -> Form<Vec<String>> {
    listed(Kind::DefinesSome(space))
}

const fn listed(kind: Kind) -> Form<Vec<String>> {
    Form { kind, read: |row, key, _| row.has(key).then(|| row.texts(key)) }
}

/// True or false.
pub(crate) const fn flag() -> Form<bool> {
    Form { kind: Kind::Flag, read: |row, key, _| row.flag(key) }
}

/// An amount.
pub(crate) const fn points() -> Form<Points> {
    Form { kind: Kind::Points, read: |row, key, _| row.points(key) }
}

/// A list of amounts.
pub(crate) const fn points_list() -> Form<Vec<Points>> {
    Form { kind: Kind::PointsList, read: |row, key, _| row.has(key).then(|| row.amounts(key)) }
}

/// A plain number, in thousandths.
pub(crate) const fn number() -> Form<Points> {
    Form { kind: Kind::Number, read: |row, key, _| row.points(key) }
}

/// A time, in milliseconds.
pub(crate) const fn seconds() -> Form<i64> {
    Form { kind: Kind::Seconds, read: |row, key, _| row.points(key).map(|seconds| seconds.0) }
}

/// An angle, or another quantity in its unit.
pub(crate) const fn degrees() -> Form<Magnitude> {
    Form { kind: Kind::Degrees, read: |row, key, _| row.degrees(key).map(Magnitude) }
}

/// A whole number.
pub(crate) const fn count() -> Form<u32> {
    Form { kind: Kind::Count, read: |row, key, _| row.count(key) }
}

/// From, to.
pub(crate) const fn span() -> Form<[u16; 2]> {
    Form { kind: Kind::Span, read: |row, key, _| row.range(key) }
}

/// One of the words.
pub(crate) const fn one_of<T: Word>() -> Form<T> {
    Form { kind: Kind::OneOf(T::WORDS), read: |row, key, _| T::of(row.word(key)) }
}

/// Some of the words.
pub(crate) const fn some_of<T: Word>() -> Form<Vec<T>> {
    Form {
        kind: Kind::SomeOf(T::WORDS),
        read: |row, key, _| {
            let words = || row.texts(key).iter().filter_map(|word| T::of(word)).collect();
            row.has(key).then(words)
        },
    }
}

/// An inner table.
pub(crate) const fn inner<T: Part>() -> Form<T> {
    Form {
        kind: Kind::Table(T::FIELDS),
        read: |row, key, findings| row.row(key).map(|inner| T::read(inner, findings)),
    }
}

/// Inner tables.
pub(crate) const fn inner_list<T: Part>() -> Form<Vec<T>> {
    Form {
        kind: Kind::Tables(T::FIELDS),
        read: |row, key, findings| {
            Some(row.rows(key).iter().map(|inner| T::read(inner, findings)).collect())
        },
    }
}

/// Numbers by free names, which are looked up in the row itself.
pub(crate) const fn numbers() -> Form<()> {
    Form { kind: Kind::Numbers, read: |_, _, _| None }
}
