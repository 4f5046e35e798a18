//! Reading rule books: what is right is read, what is wrong is said with its place.

use stillcall::rulebook::{FaultAmount, Severity, read, render};
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
