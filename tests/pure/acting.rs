//! Whether each key that is typed in a book changes a score: the books that are meant as they stand
//! pass, and what never counts is told at its line.

use stillcall::{
    rulebook::{blank, shipped, shipped_text, text_beside},
    trials::{Checked, check},
};

use crate::{books::ask::kinds, guide::examples};

fn tried(text: &str) -> Checked {
    let place = kinds("").join("t.toml");
    check(text, &|base| text_beside(place.to_str().unwrap(), base))
}

/// Returns what is told of a text, each with its line.
fn told(text: &str) -> Vec<String> {
    let lines: Vec<&str> = text.lines().collect();
    let warnings = tried(text).warnings.into_iter();
    warnings.map(|one| format!("{}: {}", lines[one.line - 1], one.message)).collect()
}

#[test]
fn every_key_of_the_books_that_come_with_the_program_acts() {
    for name in shipped() {
        assert_eq!(told(shipped_text(name).unwrap()), [""; 0], "{name}");
    }
    assert_eq!(told(blank()), [""; 0]);
}

#[test]
fn every_key_of_the_guide_acts() {
    assert_eq!(told(&examples()), [""; 0]);
}

#[test]
fn every_key_of_the_right_examples_acts() {
    for file in std::fs::read_dir(kinds("valid")).unwrap() {
        let path = file.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        assert_eq!(told(&text), [""; 0], "{}", path.display());
    }
}
