//! The rule book guide says what the reader knows, and its examples are a book.

use std::collections::BTreeSet;

use stillcall::rulebook::{read, reference, render, schema};

/// The guide as it stands.
pub(crate) const GUIDE: &str = include_str!("../../docs/rulebook-guide.md");

/// Returns the examples of the guide as one text, in their order.
pub(crate) fn examples() -> String {
    let blocks = GUIDE.split("```toml\n").skip(1);
    blocks.filter_map(|block| block.split("```").next()).collect()
}

#[test]
fn the_guide_lists_every_table_and_key_as_the_reader_has_them() {
    let sections = reference();
    assert_eq!(sections.len(), schema()["properties"].as_object().unwrap().len());
    for (section, (table, value)) in
        sections.iter().zip(schema()["properties"].as_object().unwrap())
    {
        assert!(section.contains(&format!("[{table}]")), "{table} in {section}");
        let value = value.get("items").unwrap_or(value);
        for key in value["properties"].as_object().unwrap().keys() {
            assert!(section.contains(&format!("\n| `{key}` | ")), "{key} in {section}");
        }
        assert!(GUIDE.contains(section.trim_end()), "run `stillcall rulebook keys`:\n{section}");
    }
}

#[test]
fn the_examples_of_the_guide_make_one_book_that_passes() {
    let text = examples();
    match read(&text, "guide") {
        Ok((_, warnings)) => {
            assert!(warnings.is_empty(), "{}", render(&warnings, &text, "guide"));
        }
        Err(errors) => panic!("{}", render(&errors, &text, "guide")),
    }
}

#[test]
fn the_example_of_a_book_like_another_passes() {
    let block = GUIDE.split("```\n[book]").nth(1).and_then(|rest| rest.split("```").next());
    let text = format!("[book]{}", block.unwrap());
    match read(&text, "guide") {
        Ok((book, _)) => assert!(book.faults.iter().all(|fault| fault.id != "direction")),
        Err(errors) => panic!("{}", render(&errors, &text, "guide")),
    }
}

#[test]
fn every_key_of_the_schema_stands_in_an_example() {
    let text: String = GUIDE.split("```").skip(1).step_by(2).collect();
    let words: BTreeSet<&str> = text.split(|c: char| !c.is_alphanumeric() && c != '_').collect();
    let schema = schema();
    for (table, value) in schema["properties"].as_object().unwrap() {
        assert!(words.contains(table.as_str()), "no example of {table}");
        assert!(every_key(value, table, &words) > 0, "no key of {table}");
    }
}

/// Checks the keys of a table and of the tables in it; returns how many there are.
fn every_key(value: &serde_json::Value, table: &str, words: &BTreeSet<&str>) -> usize {
    let value = value.get("items").unwrap_or(value);
    // One table or a list of such tables.
    let value = value.get("anyOf").map_or(value, |either| &either[0]);
    let Some(keys) = value.get("properties").and_then(|keys| keys.as_object()) else { return 0 };
    for (key, value) in keys {
        assert!(words.contains(key.as_str()), "no example of {key} in {table}");
        every_key(value, key, words);
    }
    keys.len()
}
