//! What a fault costs as the judge wrote it, and what the book says of that. The amounts are
//! invented; each is read off the rule beside its case.

use stillcall::{sheet::score, units::Points};

use crate::books::{ask::like_base, write::write};

/// Feet cost 0.1, a squat 0.1 or 0.3, a bend up to 0.8 in steps of 0.1.
fn written(fault: &str, amount: Option<&str>) -> (Points, String) {
    let bend = "[[fault]]\nid = \"bend\"\nlabel = \"Bend\"\nup_to = 0.8\ngrid = 0.1\n";
    let sheaf = write("beam", "low").does(&["wheel"]).fault(fault, amount).done();
    let sheet = score(&like_base(bend), &sheaf);
    let line = &sheet.deductions[0];
    let said = line.reason.split_once(". ").map_or("", |(_, said)| said);
    (line.amount, said.to_owned())
}

#[test]
fn a_fault_of_one_amount_costs_that() {
    assert_eq!(written("feet", None), (Points(100), String::new()));
    assert_eq!(written("feet", Some("0.1")), (Points(100), String::new()));
    assert_eq!(written("feet", Some("0.2")), (Points(100), "The book takes 0.1, not 0.2.".into()));
}

#[test]
fn a_fault_up_to_an_amount_costs_what_was_written_up_to_there() {
    let waits = "The amount is still to be chosen, up to 0.8.";
    assert_eq!(written("bend", None), (Points::ZERO, waits.into()));
    assert_eq!(written("bend", Some("0.3")), (Points(300), String::new()));
    assert_eq!(written("bend", Some("0.8")), (Points(800), String::new()));
    let above = "0.9 was written; the book allows up to 0.8.";
    assert_eq!(written("bend", Some("0.9")), (Points(800), above.into()));
    let between = "The book chooses in steps of 0.1.";
    assert_eq!(written("bend", Some("0.25")), (Points(250), between.into()));
}

#[test]
fn a_fault_of_a_choice_costs_what_was_written() {
    let waits = "The amount is still to be chosen: 0.1, 0.3.";
    assert_eq!(written("squat", None), (Points::ZERO, waits.into()));
    assert_eq!(written("squat", Some("0.3")), (Points(300), String::new()));
    let other = "The book chooses from 0.1, 0.3.";
    assert_eq!(written("squat", Some("0.2")), (Points(200), other.into()));
}
