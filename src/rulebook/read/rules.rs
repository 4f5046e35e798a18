//! From checked tables to the model: all rules, and what their tables share.

use crate::{
    rulebook::{
        Book, Cap, Counts, Credit, Per, Replace,
        rows::{findings::Findings, row::Row},
    },
    units::Points,
};

use super::{
    angle,
    build::{Tables, scope},
    credit, extra, fault, small,
};

/// Adds the rules of the tables to the book.
pub(crate) fn build(book: &mut Book, tables: &mut Tables<'_, '_, '_>) {
    book.value_parts = each(tables, "value_parts", |row, _| credit::value_parts(row));
    book.requirements = each(tables, "requirement", credit::requirement);
    book.connections = each(tables, "connection", credit::connection);
    book.texts = each(tables, "text", credit::text);
    book.angles = each(tables, "angle", angle::angle);
    book.faults = each(tables, "fault", fault::fault);
    book.whens = each(tables, "when", fault::when);
    book.replaces = each(tables, "replace", |row, _| replace(row));
    book.caps = each(tables, "cap", cap);
    book.merges = each(tables, "merge", small::merge);
    book.too_many = each(tables, "too_many", small::too_many);
    book.too_few = each(tables, "too_few", extra::too_few);
    book.times = each(tables, "time", extra::time);
    book.bonuses = each(tables, "bonus", extra::bonus);
    book.attempts = each(tables, "attempts", extra::attempts);
    book.panels = each(tables, "panel", small::panel);
}

fn each<T>(
    tables: &mut Tables<'_, '_, '_>,
    key: &str,
    read: impl Fn(&Row, &mut Findings<'_>) -> T,
) -> Vec<T> {
    let rows = tables.spread(key);
    rows.iter().map(|row| read(row, tables.findings)).collect()
}

fn replace(row: &Row) -> Replace {
    Replace { scope: scope(row), rule: row.text("rule"), drops: row.texts("drops") }
}

fn cap(row: &Row, findings: &mut Findings<'_>) -> Cap {
    let plus_value = row.flag("plus_value").unwrap_or(false);
    if plus_value && row.word("per") != "element" {
        let message = "only the limit of one element can grow with its worth".to_owned();
        findings.error(&row.span_of("plus_value"), message, "add per = \"element\"");
    }
    Cap {
        id: row.text("id"),
        label: row.text("label"),
        scope: scope(row),
        group: group(row),
        at_most: row.points("at_most").unwrap_or_default(),
        plus_value,
        per: match row.word("per") {
            "phase" => Per::Phase,
            "element" => Per::Element,
            _ => Per::Exercise,
        },
        lifted_by: row.texts("lifted_by"),
        page: row.text("where"),
    }
}

/// Returns the group of a rule; empty for none.
pub(crate) fn group(row: &Row) -> String {
    row.texts("group").into_iter().next().unwrap_or_default()
}

/// Returns how often a rule takes its amount.
pub(crate) fn counts(row: &Row) -> Counts {
    match row.word("counts") {
        "once" => Counts::Once,
        "once-per-phase" => Counts::OncePerPhase,
        "once-per-element" => Counts::OncePerElement,
        _ => Counts::Each,
    }
}

/// Returns the kinds of credit that the key names.
pub(crate) fn credits(row: &Row, key: &str) -> Vec<Credit> {
    let credit = |word: &String| match word.as_str() {
        "value-part" => Credit::ValuePart,
        "connection" => Credit::Connection,
        _ => Credit::Requirement,
    };
    row.texts(key).iter().map(credit).collect()
}

/// Reports a table that has none of the keys.
pub(crate) fn needs_one_of(row: &Row, keys: &[&str], findings: &mut Findings<'_>) {
    if keys.iter().all(|key| !row.has(key)) {
        let message = match keys.split_last() {
            Some((only, [])) => format!("the key \"{only}\" is missing"),
            Some((last, others)) => {
                format!("one of the keys {} and {last} is missing", others.join(", "))
            }
            None => return,
        };
        findings.error(&row.span, message, &format!("add {}", keys.join(" or ")));
    }
}

/// Returns an amount that must be more than 0, or `otherwise` where it is not.
pub(crate) fn positive(
    row: &Row,
    key: &str,
    otherwise: Points,
    findings: &mut Findings<'_>,
) -> Points {
    let amount = row.points(key).unwrap_or(otherwise);
    if amount > Points::ZERO {
        return amount;
    }
    findings.error(&row.span_of(key), format!("{key} must be more than 0"), "such as 0.05 or 0.1");
    otherwise
}

/// Returns the value that the word stands for in the marks file, which uses the same words.
pub(crate) fn word_of<T: serde::de::DeserializeOwned>(row: &Row, key: &str) -> Option<T> {
    serde_json::from_value(row.word(key).into()).ok()
}

/// Returns the values that the words stand for in the marks file.
pub(crate) fn words_of<T: serde::de::DeserializeOwned>(row: &Row, key: &str) -> Vec<T> {
    let words = row.texts(key).into_iter();
    words.filter_map(|word| serde_json::from_value(word.into()).ok()).collect()
}
