//! The printed reference of a rule book's tables and keys, made from what reading uses.

use std::fmt::Write as _;

use crate::rulebook::{
    model::book::TABLES,
    rows::{Field, Kind, Many, Need, TableSpec},
};

/// Returns one Markdown section for every table that a book may have, in the order of reading.
pub fn reference() -> Vec<String> {
    TABLES.iter().map(section).collect()
}

fn section(table: &TableSpec) -> String {
    let title = match table.many {
        Many::One => format!("`[{}]`", table.key),
        Many::Any => format!("`[[{}]]`", table.key),
    };
    let mut text =
        format!("### {title}\n\n{}\n\n| key | value | meaning |\n|---|---|---|\n", table.help);
    rows("", table.fields, &mut text);
    text
}

fn rows(before: &str, fields: &[Field], text: &mut String) {
    for field in fields {
        let key = format!("{before}{}", field.key);
        let needed = if field.need == Need::Required { ", needed" } else { "" };
        let (value, help) = (value(field.kind), field.help);
        let _ = writeln!(text, "| `{key}` | {value}{needed} | {help} |");
        if let Kind::Table(inner) | Kind::Tables(inner) = field.kind {
            rows(&format!("{key}."), inner, text);
        }
    }
}

/// Returns what a value must be, in words.
fn value(kind: Kind) -> String {
    let or = |words: &[&str]| {
        let quoted: Vec<String> = words.iter().map(|word| format!("`\"{word}\"`")).collect();
        quoted.join(", ")
    };
    match kind {
        Kind::Text => "text".to_owned(),
        Kind::Texts => "texts".to_owned(),
        Kind::Date => "date".to_owned(),
        Kind::Flag => "true or false".to_owned(),
        Kind::Points => "points".to_owned(),
        Kind::Degrees => "degrees".to_owned(),
        Kind::Seconds => "seconds".to_owned(),
        Kind::Count => "whole number".to_owned(),
        Kind::Number => "number".to_owned(),
        Kind::OneOf(words) => format!("one of {}", or(words)),
        Kind::SomeOf(words) => format!("some of {}", or(words)),
        Kind::PointsList => "list of points".to_owned(),
        Kind::Span => "degrees, or from and to".to_owned(),
        Kind::Defines(space) => format!("new {}", space.word()),
        Kind::Names(space) => format!("a {}", space.word()),
        Kind::NameByDivision(space) => format!("a {}, or a table by division", space.word()),
        Kind::NamesSome(space) => format!("names, each a {}", space.word()),
        Kind::DefinesSome(space) => format!("new words, each a {}", space.word()),
        Kind::Table(_) => "table".to_owned(),
        Kind::Tables(_) => "list of tables".to_owned(),
        Kind::Numbers => "table of numbers".to_owned(),
    }
}
