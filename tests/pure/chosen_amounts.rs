//! What a fault or a mark costs, and what is said of it. The amounts are invented; each is read off
//! the rule beside its case.

use stillcall::{
    marks::What,
    sheet::{Status, score},
    units::Points,
};

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
    let between = "0.25 is not taken: the book chooses in steps of 0.1. Choose again.";
    assert_eq!(written("bend", Some("0.25")), (Points::ZERO, between.into()));
    let added = "-0.3 is no deduction; choose again.";
    assert_eq!(written("bend", Some("-0.3")), (Points::ZERO, added.into()));
}

#[test]
fn a_fault_of_a_choice_costs_what_was_written() {
    let waits = "The amount is still to be chosen: 0.1, 0.3.";
    assert_eq!(written("squat", None), (Points::ZERO, waits.into()));
    assert_eq!(written("squat", Some("0.3")), (Points(300), String::new()));
    for other in ["0.2", "-0.1", "0.31", "0"] {
        let said = format!("{other} is not taken: the book chooses from 0.1, 0.3. Choose again.");
        assert_eq!(written("squat", Some(other)), (Points::ZERO, said.replace("0 is", "0.0 is")));
    }
}

#[test]
fn an_amount_that_is_not_among_those_of_the_book_is_told_and_changes_no_score() {
    let sheaf = write("beam", "low").does(&["wheel"]).fault("squat", Some("-0.3")).done();
    let sheet = score(&like_base(""), &sheaf);
    assert_eq!(sheet.score, Some(Points(10_000)));
    let told = sheet.remarks.iter().find(|line| line.rule == "not-among-amounts").unwrap();
    assert_eq!(told.label, "Squat of -0.3 is not in this book");
    assert_eq!(told.mark, Some(sheaf.marks[1].id));
}

/// A swing on bars costs 0.3 in the low division, 0.5 in the high one.
fn swing(event: &str, division: &str) -> Vec<(String, Points, Status, String)> {
    let when = |division: &str, amount: &str| {
        format!(
            "[[when]]\nid = \"swing-{division}\"\nlabel = \"Swing\"\nevents = \"bars\"\n\
             divisions = \"{division}\"\nmark = \"swing\"\namount = {amount}\n\n"
        )
    };
    let tables = match division {
        "both" => [when("low", "0.3"), when("high", "0.5")].concat(),
        one => when(one, "0.3"),
    };
    let element = if event == "bars" { "kip" } else { "roll" };
    let sheaf = write(event, "low").does(&[element]).seen(What::Swing).done();
    let sheet = score(&like_base(&tables), &sheaf);
    let line =
        |it: &stillcall::sheet::Line| (it.rule.clone(), it.amount, it.status, it.reason.clone());
    sheet.deductions.iter().map(line).collect()
}

#[test]
fn a_mark_that_another_division_counts_is_told_once_and_only_on_its_event() {
    let taken =
        |rule: &str| (rule.to_owned(), Points(300), Status::Taken, "It follows Kip.".to_owned());
    assert_eq!(swing("bars", "low"), [taken("swing-low")]);
    assert_eq!(swing("bars", "both"), [taken("swing-low")], "one line for one swing");
    let told = "It follows Kip. Low does not count it.".to_owned();
    assert_eq!(
        swing("bars", "high"),
        [("swing-high".to_owned(), Points::ZERO, Status::NotCounted, told)]
    );
    assert_eq!(swing("beam", "high"), []);
}

#[test]
fn it_is_said_after_which_element_a_fault_was_seen() {
    let reason = |elements: &[&str]| {
        let sheaf = write("beam", "low").does(elements).fault("feet", None).done();
        score(&like_base(""), &sheaf).deductions[0].reason.clone()
    };
    assert_eq!(reason(&["roll"]), "After the beginning of Roll.");
    assert_eq!(reason(&[]), "Before the first element.");
}
