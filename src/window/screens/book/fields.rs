//! Which fields a row shows, and how each is filled in.

use std::collections::BTreeMap;

use crate::rulebook::{
    Draft, RowAt, TABLES,
    rows::{Field, Kind, Need, Space, TableSpec},
};

/// Words of a few are buttons up to so many.
const FEW: usize = 14;

/// How a field is filled in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Way {
    /// It is written.
    Written,
    /// One of these words.
    One(Vec<String>),
    /// Any of these.
    Some(Vec<String>),
    /// Rows inside, one or many.
    Rows { many: bool },
}

/// Returns the fields of a row; nothing where there is none.
pub(super) fn fields_of(place: &RowAt) -> &'static [Field] {
    let spec = TABLES.iter().find(|spec| spec.key == place.table);
    let mut fields = spec.map_or(&[][..], |spec| spec.fields);
    for step in &place.inner {
        let inner = fields.iter().find(|field| field.key == step.key);
        fields = match inner.map(|field| field.kind) {
            Some(Kind::Table(fields) | Kind::Tables(fields)) => fields,
            _ => &[],
        };
    }
    fields
}

pub(super) fn field_of(place: &RowAt, key: &str) -> Option<&'static Field> {
    fields_of(place).iter().find(|field| field.key == key)
}

/// Returns how a field is filled in, with the names that there are.
pub(super) fn way(field: &Field, known: &BTreeMap<Space, Vec<String>>) -> Way {
    let names = |space: Space| -> Option<Vec<String>> {
        let names = known.get(&space)?.clone();
        (1..=FEW).contains(&names.len()).then_some(names)
    };
    let words = |words: &[&str]| words.iter().map(|word| (*word).to_owned()).collect();
    match field.kind {
        Kind::OneOf(all) => Way::One(words(all)),
        Kind::SomeOf(all) => Way::Some(words(all)),
        Kind::Flag => Way::One(words(&["true", "false"])),
        Kind::Names(space) => names(space).map_or(Way::Written, Way::One),
        Kind::NamesSome(space) => names(space).map_or(Way::Written, Way::Some),
        Kind::Table(_) => Way::Rows { many: false },
        Kind::Tables(_) => Way::Rows { many: true },
        _ => Way::Written,
    }
}

/// Returns the names that may be meant by what is being written.
pub(super) fn offers(
    field: &Field,
    written: &str,
    known: &BTreeMap<Space, Vec<String>>,
) -> Vec<String> {
    let (Kind::Names(space)
    | Kind::NamesSome(space)
    | Kind::NameByDivision(space)
    | Kind::DefinesSome(space)) = field.kind
    else {
        return Vec::new();
    };
    let begun = written.rsplit([',', ';', ' ']).next().unwrap_or_default().to_lowercase();
    let names = known.get(&space).into_iter().flatten();
    let fitting = names.filter(|name| name.to_lowercase().contains(&begun) && **name != begun);
    fitting.take(8).cloned().collect()
}

/// Returns the fields that are shown, and those that may be added: what may be left out is shown once
/// it has a value.
pub(super) fn shown<'f>(
    draft: &Draft,
    place: &RowAt,
    open: Option<&str>,
) -> (Vec<&'f Field>, Vec<&'f Field>) {
    let is_there = |field: &Field| match field.kind {
        Kind::Table(_) | Kind::Tables(_) => draft.count_inside(place, field.key) > 0,
        _ => !draft.written(place, field.key).is_empty(),
    };
    fields_of(place).iter().partition(|field| {
        field.need == Need::Required || open == Some(field.key) || is_there(field)
    })
}

/// Returns every field of the row that is written, from the top, those inside among them.
pub(super) fn written_in_order(
    draft: &Draft,
    place: &RowAt,
    known: &BTreeMap<Space, Vec<String>>,
) -> Vec<(RowAt, &'static str)> {
    let mut all = Vec::new();
    for field in shown(draft, place, None).0 {
        match way(field, known) {
            Way::Written => all.push((place.clone(), field.key)),
            Way::Rows { .. } => {
                for at in 0..draft.count_inside(place, field.key) {
                    all.extend(written_in_order(draft, &place.inside(field.key, at), known));
                }
            }
            Way::One(_) | Way::Some(_) => {}
        }
    }
    all
}

/// Returns the tables in the order in which a book is typed in: elements before the rules on them.
pub(super) fn tables() -> Vec<&'static TableSpec> {
    let (names, rules): (Vec<_>, Vec<_>) = TABLES
        .iter()
        .partition(|spec| ["book", "division", "event", "class", "element"].contains(&spec.key));
    names.into_iter().chain(rules).collect()
}

/// Returns a key as a person reads it.
pub(super) fn in_words(key: &str) -> String {
    crate::units::capitalised(&key.replace('_', " "))
}
