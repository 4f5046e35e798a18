//! Values as a person types them into a form, and as they stand in the file.
//!
//! A list is typed with commas, `leap, jump`; what differs by division as pairs, `gull 0.5, tern 0.3`. A
//! comma with no space behind it is one of a number, `0,05`.

use toml_edit::{Array, InlineTable, Item, Value};

use crate::rulebook::rows::Kind;

/// Returns a value as a person types it.
pub(super) fn typed(item: &Item) -> String {
    item.as_value().map(in_words).unwrap_or_default()
}

fn in_words(value: &Value) -> String {
    match value {
        Value::String(text) => text.value().clone(),
        Value::Array(all) => all.iter().map(in_words).collect::<Vec<_>>().join(", "),
        Value::InlineTable(pairs) => {
            let pairs = pairs.iter().map(|(name, value)| format!("{name} {}", in_words(value)));
            pairs.collect::<Vec<_>>().join(", ")
        }
        other => {
            let mut bare = other.clone();
            bare.decor_mut().clear();
            bare.to_string()
        }
    }
}

/// Returns what was typed as a value of its kind, or what is wrong with it.
pub(super) fn value(kind: Kind, typed: &str) -> Result<Value, String> {
    let typed = typed.trim();
    match kind {
        Kind::Flag => match typed.to_lowercase().as_str() {
            "yes" | "true" => Ok(true.into()),
            "no" | "false" => Ok(false.into()),
            _ => Err("say yes or no".to_owned()),
        },
        Kind::Count => typed
            .parse::<i64>()
            .map(Value::from)
            .or_else(|_| pairs(typed, number))
            .map_err(|_| "write a whole number".to_owned()),
        Kind::Points | Kind::Degrees | Kind::Seconds | Kind::Number => number(typed)
            .or_else(|_| pairs(typed, number))
            // Divisions may have a number of that name.
            .or_else(|_| name(typed)),
        Kind::PointsList | Kind::Span => {
            let all = list(typed).into_iter().map(number).collect::<Result<Vec<_>, _>>()?;
            Ok(one_or_all(all))
        }
        Kind::NamesSome(_) | Kind::DefinesSome(_) | Kind::SomeOf(_) | Kind::Texts => {
            Ok(one_or_all(list(typed).into_iter().map(Value::from).collect()))
        }
        Kind::NameByDivision(_) => pairs(typed, |word| Ok(word.into())).or_else(|_| name(typed)),
        Kind::Numbers => pairs(typed, number),
        Kind::Date => typed
            .parse::<toml_edit::Datetime>()
            .map(Value::from)
            .map_err(|_| "write a day as 2026-01-31".to_owned()),
        Kind::Text | Kind::OneOf(_) | Kind::Defines(_) | Kind::Names(_) => Ok(typed.into()),
        Kind::Table(_) | Kind::Tables(_) => Err("it has a form of its own".to_owned()),
    }
}

/// Returns the parts of a list.
pub(super) fn list(typed: &str) -> Vec<&str> {
    let mut parts = Vec::new();
    let mut rest = typed;
    while !rest.is_empty() {
        let ends = rest.char_indices().find(|(at, letter)| match letter {
            ';' | '\n' | '\t' => true,
            // One within a number belongs to it.
            ',' => !is_decimal(&rest[..*at], &rest[at + 1..]),
            _ => false,
        });
        let (part, after) = match ends {
            Some((at, letter)) => (&rest[..at], &rest[at + letter.len_utf8()..]),
            None => (rest, ""),
        };
        parts.extend(Some(part.trim()).filter(|part| !part.is_empty()));
        rest = after;
    }
    parts
}

fn is_decimal(before: &str, after: &str) -> bool {
    before.ends_with(|c: char| c.is_ascii_digit())
        && after.starts_with(|c: char| c.is_ascii_digit())
}

fn one_or_all(mut all: Vec<Value>) -> Value {
    if all.len() == 1 { all.remove(0) } else { Value::Array(all.into_iter().collect::<Array>()) }
}

fn number(typed: &str) -> Result<Value, String> {
    let plain = typed.trim().trim_end_matches(['°', '+']).replace(',', ".");
    let plain = plain.trim_start_matches('+');
    let plain = match plain.strip_prefix('.') {
        Some(rest) => format!("0.{rest}"),
        None => plain.to_owned(),
    };
    let is_number = plain.parse::<f64>().is_ok_and(f64::is_finite);
    let written = plain.parse::<Value>().ok().filter(|_| is_number);
    written.ok_or_else(|| format!("\"{typed}\" is no number"))
}

fn name(typed: &str) -> Result<Value, String> {
    let is_name = !typed.is_empty() && !typed.contains([' ', ',', ';']);
    if is_name {
        Ok(typed.into())
    } else {
        Err(format!("\"{typed}\" is neither a number nor a name"))
    }
}

/// Reads `gull 0.5, tern 0.3`.
fn pairs(typed: &str, each: impl Fn(&str) -> Result<Value, String>) -> Result<Value, String> {
    let mut table = InlineTable::new();
    for pair in list(typed) {
        let wrong = || format!("write a name and what it has, as in \"first 0.5\", not \"{pair}\"");
        let (name, rest) = pair.split_once([' ', '=', ':']).ok_or_else(wrong)?;
        table.insert(name.trim(), each(rest.trim_matches([' ', '=', ':']))?);
    }
    if table.is_empty() { Err("nothing is written".to_owned()) } else { Ok(table.into()) }
}
