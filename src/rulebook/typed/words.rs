//! Which keys are words: they stand on a sheet, a card or a page, and bear on no score.

use crate::rulebook::rows::{Field, Kind};

/// Keys that are said and never counted, beside all texts, dates and names of the row's own.
///
/// What an element is called by is tried at the rules that call it so. Of a turn, what decides and what ends it stand on the card: the reading is taken accordingly. A
/// division's own numbers are tried where they are called.
const SAID: &[(&str, &str)] = &[
    ("fault", "means"),
    ("element", "moments"),
    ("element", "tags"),
    ("time", "warn_at"),
    ("angle", "decides"),
    ("angle", "ends"),
    ("event", "divisions"),
    ("division", "like"),
];

/// Texts that are counted: they are held against what the marks say.
const COUNTED: &[(&str, &str)] = &[("when", "fact"), ("bonus", "fact")];

/// Returns whether the key bears on no score.
pub(super) fn is_said(table: &str, field: &Field) -> bool {
    let is_in = |list: &[(&str, &str)]| list.contains(&(table, field.key));
    let is_text = matches!(field.kind, Kind::Text | Kind::Date | Kind::Defines(_));
    is_in(SAID) || is_text && !is_in(COUNTED)
}
