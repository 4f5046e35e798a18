//! Reading rule books: what is right is read, what is wrong is said with its place.

use stillcall::rulebook::{FaultAmount, Severity, blank, read, render, schema};
use stillcall::units::{Magnitude, Points};

use crate::books::{
    P,
    ask::{but, error},
    book,
};

#[test]
fn the_test_book_is_read() {
    let book = book(P);
    assert_eq!(book.divisions.len(), 5);
    let leap = book.element("beam", "leap").unwrap();
    let target = |division| book.angles_of(leap, "beam", division)[0].target;
    assert_eq!(target("d2"), Magnitude(90.0));
    assert_eq!(target("d5"), Magnitude(150.0));
    let legs = book.faults_of("bars", "d3").into_iter().find(|fault| fault.id == "legs").unwrap();
    assert_eq!(legs.amount, FaultAmount::UpTo { max: Points(300), grid: Points(50) });
}

#[test]
fn all_errors_are_reported_at_once_with_place_nearest_name_and_remedy() {
    let text = "\
[book]
id = \"x\"
titel = \"X\"
edition = 1

[[event]]
id = \"beam\"
name = \"Beam\"

[[fault]]
id = \"legs\"
label = \"Legs\"
events = \"baem\"
amount = 0.12345

[[fault]]
id = \"feet\"
label = \"Feet\"
";
    let errors = read(text, "x.toml").unwrap_err();
    let lines: Vec<usize> = errors.iter().map(|error| error.line).collect();
    assert_eq!(lines, [1, 3, 13, 14, 16], "{}", render(&errors, text, "x.toml"));
    assert!(errors.iter().all(|error| error.severity == Severity::Error));
    assert_eq!(errors[1].nearest.as_deref(), Some("title"));
    assert_eq!(errors[2].nearest.as_deref(), Some("beam"));
    insta::assert_snapshot!(render(&errors, text, "x.toml"));
}

#[test]
fn the_blank_book_passes_without_a_word() {
    let (_, warnings) = read(blank(), "blank").unwrap();
    assert_eq!(warnings, []);
}

#[test]
fn what_does_not_fit_together_is_an_error_in_its_place() {
    for (old, new, said) in [
        ("count = 2, price", "count = -2, price", "this is no whole number"),
        ("amount = 0.5", "amount = -0.5", "an amount is not negative"),
        ("amount = 0.5", "amount = \"0.5\"", "unknown number \"0.5\""),
        ("side = \"at-least\"", "side = \"at-last\"", "unknown word \"at-last\""),
        (
            "mark = \"fall\"",
            "mark = \"fall\"\nparts = [\"head\"]",
            "\"parts\" says nothing about the mark \"fall\"",
        ),
        ("id = \"legs\"", "id = \"feet\"", "the fault \"feet\" is there twice"),
        (
            "numbers = { leap = 100 }",
            "like = \"second\"",
            "this division takes its numbers from itself in the end",
        ),
        ("start = 10.0", "", "this formula needs the key \"start\""),
        ("class = \"a\"\nshorthand = \"sj\"", "class = \"b\"", "unknown class \"b\""),
        ("[book]", "[bok]", "unknown table \"bok\""),
        ("up_to = 20, amount", "up_to = nan, amount", "this is no angle in degrees"),
    ] {
        let error = error(&but(blank(), old, new), said);
        assert!(error.line > 1 || said.contains("bok"), "{error:?}");
    }
}

#[test]
fn a_day_that_no_calendar_has_is_an_error() {
    // The words for a date that is none are the TOML reader's own.
    let text = but(blank(), "# valid_from = 2026-01-01", "valid_from = 2026-13-01 #");
    assert!(read(&text, "e.toml").is_err());
}

#[test]
fn the_schema_names_every_table_and_what_must_be_there() {
    let schema = schema();
    assert_eq!(schema["properties"]["fault"]["items"]["required"][0], "id");
    assert_eq!(schema["properties"]["book"]["additionalProperties"], false);
    assert!(schema["properties"]["angle"]["items"]["properties"]["bands"].is_object());
}
