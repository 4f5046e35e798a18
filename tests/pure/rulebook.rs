//! Reading rule books: what is right is read, what is wrong is said with its place.

use stillcall::rulebook::{
    FaultAmount, Rounding, Severity, Take, blank, counted_findings, read, render, schema,
    shipped_text,
};
use stillcall::units::{Magnitude, Points};

use crate::books::{
    P,
    ask::{but, error, like_base},
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
        ("amount = 0.5", "amount = \"0.5\"", "this is a number in quotes"),
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
            "this division takes its numbers from itself in the end: \"second\" like \"second\"",
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
fn what_stands_at_the_edge_is_taken() {
    for (old, new) in [
        ("# valid_from = 2026-01-01", "valid_from = 2026-01-01\nvalid_to = 2026-01-01 #"),
        ("count = 2, price", "count = 10000, price"),
        ("up_to = 20, amount", "up_to = 3600, amount"),
    ] {
        assert!(read(&but(blank(), old, new), "e").is_ok(), "{new}");
    }
    let late = "valid_from = 2026-01-02\nvalid_to = 2026-01-01 #";
    error(&but(blank(), "# valid_from = 2026-01-01", late), "the book ends before it begins");
    error(&but(blank(), "count = 2, price", "count = 10001, price"), "this is no whole number");
}

#[test]
fn a_book_knows_where_it_was_read_from() {
    assert_eq!(read(blank(), "here").unwrap().0.source, "here");
}

#[test]
fn a_page_may_be_written_as_a_bare_number() {
    let with =
        |page: &str| but(blank(), "mark = \"fall\"", &format!("mark = \"fall\"\nwhere = {page}"));
    for (page, is) in [("12", "12"), ("4.2", "4.2"), ("\"4.2 b\"", "4.2 b")] {
        let (book, _) = read(&with(page), "e").unwrap();
        assert!(book.whens.iter().any(|when| when.page == is), "{page}");
    }
}

#[test]
fn no_number_is_written_in_another_base() {
    for hex in ["0x10", "0b1", "0o7"] {
        let text = but(blank(), "count = 2, price", &format!("count = {hex}, price"));
        assert!(read(&text, "e").is_err(), "{hex}");
    }
}

#[test]
fn numbers_by_division_are_refused_where_nothing_has_divisions() {
    let class = "[[class]]\nid = \"z\"\nname = \"Z\"\nvalue = { first = 0.1 }\n\n[[scoring]]";
    let text = but(blank(), "[[scoring]]", class);
    let found = error(&text, "this must be an amount without quotes");
    assert_eq!(found.remedy, "numbers by division are not possible here");
}

#[test]
fn what_is_known_is_listed_up_to_eight() {
    let events = |count: usize| -> String {
        let event = |at| format!("[[event]]\nid = \"zone-{at}\"\nname = \"Z\"\n\n");
        (0..count).map(event).collect::<Vec<_>>().concat()
    };
    let remedy = |count| {
        let text = format!(
            "[book]\nid = \"x\"\ntitle = \"X\"\nedition = 1\n\n{}[[fault]]\nid = \"legs\"\n\
             label = \"Legs\"\nevents = \"quilt\"\namount = 0.1\n",
            events(count)
        );
        error(&text, "unknown event \"quilt\"").remedy
    };
    let eight = "known here: zone-0, zone-1, zone-2, zone-3, zone-4, zone-5, zone-6, zone-7";
    assert_eq!(remedy(8), eight);
    assert_eq!(remedy(9), format!("{eight} and 1 more"));
}

/// A book of two events and two divisions.
fn apart() -> String {
    let named = |table: &str, id: &str| format!("[[{table}]]\nid = \"{id}\"\nname = \"N\"\n\n");
    let head = "[book]\nid = \"x\"\ntitle = \"X\"\nedition = 1\n\n".to_owned();
    let tables = [("event", "beam"), ("event", "floor"), ("division", "low"), ("division", "high")];
    tables.iter().fold(head, |text, (table, id)| text + &named(table, id))
}

#[test]
fn a_number_that_no_division_names_is_told_by_what_it_must_be() {
    let fault = "[[fault]]\nid = \"f\"\nlabel = \"F\"\n";
    let angle = "[[angle]]\nid = \"a\"\nlabel = \"A\"\ntags = \"x\"\nquantity = \"split\"\n\
                 side = \"at-least\"\n";
    let time = "[[time]]\nid = \"t\"\nlabel = \"T\"\nof = \"exercise\"\namount = 0.1\n";
    let many = "[[too_many]]\nid = \"m\"\nlabel = \"M\"\ntags = \"x\"\namount = 0.1\n";
    for (table, key, what) in [
        (fault, "amount", "an amount"),
        (fault, "of_value", "a number"),
        (angle, "target", "an angle"),
        (time, "at_most", "a time in seconds"),
        (many, "at_most", "a whole number"),
    ] {
        let found =
            error(&format!("{}{table}{key} = \"own\"\n", apart()), "unknown number \"own\"");
        let remedy = format!("write {what} without quotes, or name a number in the divisions");
        assert_eq!(found.remedy, remedy);
    }
}

#[test]
fn one_id_may_stand_twice_only_apart() {
    let fault = |scope: &str| {
        format!("[[fault]]\nid = \"twist\"\nlabel = \"Twist\"\namount = 0.1\n{scope}\n\n")
    };
    let (beam, floor) = ("events = \"beam\"", "events = \"floor\"");
    let (low, high) = ("divisions = \"low\"", "divisions = \"high\"");
    for (first, second) in [(beam, floor), (low, high)] {
        assert_eq!(like_base(&(fault(first) + &fault(second))).faults.len(), 5);
    }
    for (first, second) in [("", beam), (beam, ""), (beam, beam), ("", low), (low, "")] {
        let text = format!("{}{}{}", apart(), fault(first), fault(second));
        error(&text, "the fault \"twist\" is there twice");
    }
    let element = |event: &str| {
        format!(
            "[[element]]\nid = \"twist\"\nname = \"Twist\"\nevent = \"{event}\"\nclass = \"a\"\n\n"
        )
    };
    let book = like_base(&(element("beam") + &element("floor")));
    assert!(["beam", "floor"].iter().all(|event| book.element(event, "twist").is_some()));
}

#[test]
fn a_vault_whose_value_differs_by_division_is_one_vault() {
    let text = "[[element]]\nid = \"round\"\nname = \"Round\"\nevent = \"vault\"\n\
                vault = { value = { low = 9.0, high = 9.5 }, before = 360 }\n\n\
                [[element]]\nid = \"round\"\nname = \"Round\"\nevent = \"floor\"\nclass = \"a\"\n";
    let book = like_base(text);
    let rounds: Vec<_> = book.elements.iter().filter(|element| element.id == "round").collect();
    assert_eq!(rounds.len(), 2);
    assert_eq!(rounds[0].divisions, ["low", "high"]);
    assert_eq!(rounds[0].vault.as_ref().unwrap().values.len(), 2);
    assert!(rounds[1].divisions.is_empty());
}

#[test]
fn words_of_panels_and_attempts_are_taken_as_they_stand() {
    let text = "[[panel]]\nevents = \"beam\"\nrounding = \"nearest\"\n\n\
                [[attempts]]\nevents = \"vault\"\ntake = \"sum\"\nrounding = \"nearest\"\n\n\
                [[attempts]]\nevents = \"floor\"\ntake = \"mean\"\n\n\
                [[attempts]]\nevents = \"bars\"\ntake = \"best\"\n";
    let book = like_base(text);
    let panel = |event| book.panel_of(event, "low").unwrap();
    assert_eq!(panel("beam").rounding, Rounding::Nearest);
    let attempts = |event| book.attempts_of(event, "low").map(|rule| (rule.take, rule.rounding));
    assert_eq!(attempts("vault"), Some((Take::Sum, Rounding::Nearest)));
    assert_eq!(attempts("floor"), Some((Take::Mean, Rounding::Cut)));
    assert_eq!(attempts("bars"), Some((Take::Best, Rounding::Cut)));
}

#[test]
fn a_step_of_rounding_lies_within_its_unit() {
    let angle = |quantity: &str, step: &str| {
        format!(
            "{}\n[[angle]]\nid = \"far\"\nlabel = \"Far\"\nevents = \"beam\"\n\
             tags = \"leap\"\nquantity = \"{quantity}\"\ntarget = 1\n\
             side = \"at-least\"\nround_to = {step}\n",
            blank()
        )
    };
    for (quantity, most, over, words) in [
        ("split", "90", "90.5", "90 degrees"),
        ("length", "30", "30.5", "30 metres"),
        ("knee-distance", "10", "10.5", "10 shoulder widths"),
    ] {
        assert!(read(&angle(quantity, most), "e").is_ok(), "{quantity}");
        for step in [over, "0", "-1"] {
            let said = format!("steps to round to lie above 0 and up to {words}");
            error(&angle(quantity, step), &said);
        }
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

/// Nobody reads 200,000 errors; what they would cost to make is what is counted here.
#[test]
fn a_book_in_which_everything_is_wrong_is_told_as_soon_as_any_other() {
    let shipped = shipped_text("saltmarsh").unwrap();
    let many = format!("{shipped}{}", "\n[[element]]\nnmae = \"leap\"\n".repeat(200_000));
    let found = read(&many, "many").unwrap_err();
    assert!(found.len() < 1_000, "{} findings were made", found.len());
    let bound = found.iter().find(|one| one.message.contains("more than 25000 tables")).unwrap();
    // Each of these has four lines.
    assert!(many.lines().count() - bound.line > 3 * 170_000, "line {}", bound.line);
    assert_eq!(counted_findings(found.len(), "error"), format!("{} errors or more", found.len()));
    let report = render(&found, &many, "many");
    assert_eq!(report.matches("-->").count(), 200);
    assert!(
        report.ends_with(&format!("and at least {} more; mend these first", found.len() - 200))
    );
}
