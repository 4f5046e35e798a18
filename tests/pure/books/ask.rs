//! What tests ask of a book's text and of a sheet.

use std::path::PathBuf;

use stillcall::{
    marks::Sheaf,
    rulebook::{Book, Diagnostic, read, render},
    sheet::{ScoreSheet, score},
    units::Points,
};

use super::book;

/// Returns the sheet of the routine under the book of the text.
pub(crate) fn sheet(text: &str, sheaf: &Sheaf) -> ScoreSheet {
    score(&book(text), sheaf)
}

/// Returns what the rule took, or nothing where it stands on no line.
pub(crate) fn took(sheet: &ScoreSheet, rule: &str) -> Option<Points> {
    let lines = sheet.deductions.iter().filter(|line| line.rule == rule);
    lines.map(|line| line.amount).reduce(|sum, amount| sum + amount)
}

/// Returns what all lines took.
pub(crate) fn off(sheet: &ScoreSheet) -> Points {
    sheet.deductions.iter().map(|line| line.amount).sum()
}

/// Returns the book of an example that is right.
pub(crate) fn example(name: &str) -> Book {
    let text = std::fs::read_to_string(kinds("valid").join(format!("{name}.toml"))).unwrap();
    // It is like the book beside its folder.
    let place = kinds("").join(format!("{name}.toml"));
    let (book, _) = stillcall::rulebook::read_beside(&text, place.to_str().unwrap()).unwrap();
    book
}

/// Returns the book of these tables, which is like the base of the examples.
pub(crate) fn like_base(tables: &str) -> Book {
    like_base_with("", tables)
}

/// Returns the same with more keys at its head.
pub(crate) fn like_base_with(keys: &str, tables: &str) -> Book {
    let head = "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\nlike = \"base.toml\"\n";
    let text = format!("{head}{keys}\n\n{tables}");
    let place = kinds("").join("t.toml");
    match stillcall::rulebook::read_beside(&text, place.to_str().unwrap()) {
        Ok((book, _)) => book,
        Err(errors) => panic!("{}", render(&errors, &text, "t")),
    }
}

/// Returns a folder of examples.
pub(crate) fn kinds(folder: &str) -> PathBuf {
    [env!("CARGO_MANIFEST_DIR"), "tests", "pure", "kinds", folder].iter().collect()
}

/// Returns an amount from its text.
pub(crate) fn points(text: &str) -> Points {
    text.parse().unwrap()
}

/// Returns the text with one piece in the place of another, which must be there.
pub(crate) fn but(text: &str, old: &str, new: &str) -> String {
    assert!(text.contains(old), "{old}");
    text.replacen(old, new, 1)
}

/// Returns the error with this message, or fails with those that there are.
pub(crate) fn error(text: &str, said: &str) -> Diagnostic {
    let errors = read(text, "test book").err().unwrap_or_default();
    let found = errors.iter().find(|error| error.message == said).cloned();
    found.unwrap_or_else(|| panic!("{said}: {errors:?}"))
}
