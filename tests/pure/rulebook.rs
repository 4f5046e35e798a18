//! Reading rule books: what is right is read, what is wrong is said with its place.

use stillcall::rulebook::{FaultAmount, Severity, blank, read, render, schema};
use stillcall::units::{Degrees, Points};

use crate::books::{P, book};

#[test]
fn the_test_book_is_read() {
    let book = book(P);
    assert_eq!(book.divisions.len(), 5);
    let leap = book.element("beam", "leap").unwrap();
    let target = |division| book.angles_of(leap, "beam", division)[0].target;
    assert_eq!(target("d2"), Degrees(90.0));
    assert_eq!(target("d5"), Degrees(150.0));
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

/// Returns the warnings of a book that reads, as line and message.
fn warnings(text: &str) -> Vec<(usize, String)> {
    let (_, warnings) = read(text, "w.toml").unwrap_or_default();
    assert!(read(text, "w.toml").is_ok());
    assert!(warnings.iter().all(|warning| warning.severity == Severity::Warning));
    warnings.into_iter().map(|warning| (warning.line, warning.message)).collect()
}

#[test]
fn the_blank_book_passes_without_a_word() {
    assert_eq!(warnings(blank()), []);
}

/// Returns the blank book with one piece of text in the place of another.
fn blank_but(old: &str, new: &str) -> String {
    assert!(blank().contains(old), "{old}");
    blank().replacen(old, new, 1)
}

#[test]
fn what_is_legal_and_hardly_meant_is_warned_of() {
    for (old, new, said) in [
        (
            "bands = [{ up_to = 20, amount = 0.1 }]",
            "bands = [{ up_to = 20, amount = 0.1 }, { over = 21, amount = 0.2 }]",
            "being 20° to 21° short lies in no band",
        ),
        (
            "bands = [{ up_to = 20, amount = 0.1 }]",
            "bands = [{ up_to = 20, amount = 0.1 }, { over = 19, amount = 0.2 }]",
            "being 19° to 20° short lies in two bands",
        ),
        ("gate_within = 20", "gate_within = 30", "being more than 20° short costs nothing"),
        ("grid = 0.1", "grid = 0.07", "0.3 is not reached in steps of 0.07"),
        (
            "tags = [\"leap\"]\nwhere",
            "tags = [\"leap\"]\ncount = 2\nwhere",
            "nothing that first may do meets \"leap\"",
        ),
        (
            "count = 2, price",
            "count = 3, price",
            "first on beam needs 3 of the class a, and the book has 2",
        ),
        (
            "class = \"a\"\nshorthand = \"sj\"",
            "shorthand = \"sj\"",
            "the element \"stretch-jump\" serves nothing",
        ),
        (
            "name = \"Beam\"",
            "name = \"Beam\"\ndivisions = [\"first\"]",
            "the division \"second\" is on no event",
        ),
        ("target = \"leap\"\nside", "target = 95\nside", "no rule calls the number \"leap\""),
        (
            "shorthand = \"legs\"",
            "shorthand = \"feet\"",
            "the shorthand \"feet\" stands for two faults",
        ),
        (
            "# Elements.",
            "[[replace]]\nrule = \"feet\"\ndrops = [\"legs\", \"balance\"]\n",
            "\"feet\" costs 0.1 and may stand in the place of 0.8, so that more faults cost less",
        ),
        (
            "[[value_parts]]",
            "[[scoring]]\ndivisions = [\"first\"]\nformula = \"start-minus\"\nstart = 9\n\n[[value_parts]]",
            "2 tables [[scoring]] cover first on beam",
        ),
    ] {
        let found = warnings(&blank_but(old, new));
        assert!(found.iter().any(|(_, message)| message == said), "{said}: {found:?}");
    }
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
        ("# valid_from = 2026-01-01", "valid_from = 2026-13-01 #", "missing value"),
        ("up_to = 20, amount", "up_to = nan, amount", "this is no angle in degrees"),
    ] {
        let text = blank_but(old, new);
        let errors = read(&text, "e.toml").err().unwrap_or_default();
        let found: Vec<&str> = errors.iter().map(|error| error.message.as_str()).collect();
        if said == "missing value" {
            // The words for a date that is none are the TOML reader's own.
            assert!(!found.is_empty());
            continue;
        }
        assert!(found.contains(&said), "{said}: {found:?}");
        let error = errors.iter().find(|error| error.message == said).unwrap();
        assert!(error.line > 1 || said.contains("bok"), "{error:?}");
    }
}

#[test]
fn the_schema_names_every_table_and_what_must_be_there() {
    let schema = schema();
    assert_eq!(schema["properties"]["fault"]["items"]["required"][0], "id");
    assert_eq!(schema["properties"]["book"]["additionalProperties"], false);
    assert!(schema["properties"]["angle"]["items"]["properties"]["bands"].is_object());
}
