//! The rule book guide says what the reader knows, and its examples are a book.

use std::collections::BTreeSet;

use stillcall::rulebook::{read, reference, render, schema};

const GUIDE: &str = include_str!("../../docs/rulebook-guide.md");

/// Returns the examples of the guide as one text, in their order.
fn examples() -> String {
    let blocks = GUIDE.split("```toml\n").skip(1);
    blocks.filter_map(|block| block.split("```").next()).collect()
}

#[test]
fn the_guide_lists_every_table_and_key_as_the_reader_has_them() {
    for section in reference() {
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
fn every_key_of_the_schema_stands_in_an_example() {
    let text = examples();
    let words: BTreeSet<&str> = text.split(|c: char| !c.is_alphanumeric() && c != '_').collect();
    let schema = schema();
    for (table, value) in schema["properties"].as_object().unwrap() {
        assert!(words.contains(table.as_str()), "no example of {table}");
        let value = value.get("items").unwrap_or(value);
        for key in value["properties"].as_object().unwrap().keys() {
            assert!(words.contains(key.as_str()), "no example of {key} in {table}");
        }
    }
}
