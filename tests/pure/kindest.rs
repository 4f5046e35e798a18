//! Which of the values that a reading leaves open the score shown takes: the one that costs the
//! athlete least, or the one measured, as the book says. Books and amounts are invented, and every
//! value is worked out by hand; readings of u = 5.1 reach 10 to either side.

use stillcall::{
    marks::{CallAnswer, Quantity::OffVertical},
    rulebook::Book,
    sheet::{ScoreSheet, score},
    units::Points,
};

use crate::books::{
    ask::{like_base, like_base_with, off, points, took},
    write::{Writer, write},
};

/// 10 / 1.96: what makes an interval of 10 to either side.
const TEN: f64 = 5.102;

/// An angle rule of a handstand: its id, side and target, and what else it says.
fn rule(id: &str, side: &str, target: f64, rest: &str) -> String {
    format!(
        "[[angle]]\nid = \"{id}\"\nlabel = \"{id}\"\nevents = \"beam\"\nelements = \"handstand\"\n\
         quantity = \"off-vertical\"\nside = \"{side}\"\ntarget = {target}\n{rest}\n\n"
    )
}

fn bands(amounts: &str) -> String {
    format!("bands = [{amounts}]")
}

/// The sheet of a handstand read at so much with so much to either side.
fn read(book: &Book, value: f64, half: f64) -> ScoreSheet {
    with(book, |routine| routine.reads(OffVertical, value, half / 10.0 * TEN))
}

fn with(book: &Book, what: impl Fn(Writer) -> Writer) -> ScoreSheet {
    score(book, &what(write("beam", "low").does(&["handstand"])).done())
}

#[test]
fn credit_is_kept_before_amounts() {
    // 48 of 38 to 58: from 50 on credit is kept and two others are missed, 0.1 each; down to 40
    // they are met.
    let cost = bands("{ amount = 0.1 }");
    let tables = [
        rule("credit", "at-least", 50.0, "gates = [\"value-part\"]"),
        rule("lower", "at-most", 40.0, &cost),
        rule("low", "at-most", 45.0, &cost),
        "[[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 1, price = 0.5 }]\n"
            .to_owned(),
    ];
    let sheet = read(&like_base(&tables.concat()), 48.0, 10.0);
    assert_eq!((sheet.start_value.unwrap(), off(&sheet)), (points("10.0"), points("0.2")));
}

#[test]
fn a_target_that_costs_nothing_is_taken_as_met() {
    let asks = "[[requirement]]\nid = \"straight\"\nlabel = \"Straight\"\nevents = \"beam\"\n\
                elements = \"handstand\"\nprice = 0.5\nasks = \"line\"\n";
    let tables = rule("line", "at-most", 10.0, "") + asks;
    // 12 of 2 to 22.
    assert_eq!(read(&like_base(&tables), 12.0, 10.0).start_value.unwrap(), points("10.0"));
    let measured = like_base_with("open_calls = \"as-measured\"", &tables);
    assert_eq!(read(&measured, 12.0, 10.0).start_value.unwrap(), points("9.5"));
}

#[test]
fn the_smallest_amount_is_taken() {
    let tables = rule(
        "line",
        "at-most",
        10.0,
        &bands("{ up_to = 5, amount = 0.1 }, { up_to = 10, amount = 0.2 }, { amount = 0.4 }"),
    );
    // 22 of 12 to 32: 0.1, 0.2 or 0.4 by 2, 6 or 12 above 10.
    assert_eq!(off(&read(&like_base(&tables), 22.0, 10.0)), points("0.1"));
    let measured = like_base_with("open_calls = \"as-measured\"", &tables);
    assert_eq!(off(&read(&measured, 22.0, 10.0)), points("0.4"));
}

#[test]
fn of_values_that_cost_alike_the_one_read_is_taken() {
    let cost = bands("{ amount = 0.1 }");
    let book =
        like_base(&(rule("near", "at-most", 10.0, &cost) + &rule("far", "at-least", 20.0, &cost)));
    // 15 of 5 to 25 misses both; either end misses one.
    for (value, missed) in [(9.0, "far"), (21.0, "near")] {
        let sheet = read(&book, value, 20.0);
        let rules: Vec<&str> = sheet
            .deductions
            .iter()
            .filter(|line| line.amount > Points::ZERO)
            .map(|line| line.rule.as_str())
            .collect();
        assert_eq!(rules, [missed], "{value}");
    }
}

#[test]
fn a_value_read_stands_for_all_that_come_out_alike() {
    // Two bands cost the same, and the reading lies in the second: as measured, 0.1.
    let tables = rule(
        "line",
        "at-most",
        10.0,
        &bands("{ up_to = 5, amount = 0.1 }, { up_to = 10, amount = 0.1 }, { amount = 0.4 }"),
    );
    let book = like_base_with("open_calls = \"as-measured\"", &tables);
    for value in [12.0, 17.0] {
        let sheet = read(&book, value, 10.0);
        assert_eq!(off(&sheet), points("0.1"), "{value}");
        let short = value - 10.0;
        let said = format!("Handstand: {value}° ± 10° read, {short}° short of 10°.");
        assert!(sheet.deductions[0].reason.starts_with(&said), "{}", sheet.deductions[0].reason);
    }
}

#[test]
fn an_amount_that_the_judge_chose_costs_the_same_at_every_value() {
    // 25 of 15 to 35 misses both rules. By the bands up to 25 the two cost 0.1 + 0.3, from 30 on
    // 0.5 + 0.1; where 0.2 was chosen for the first, the second decides: 0.2 + 0.1.
    let near = bands("{ up_to = 15, amount = 0.1 }, { amount = 0.5 }");
    let far = bands("{ up_to = 10, amount = 0.1 }, { amount = 0.3 }");
    let book =
        like_base(&(rule("near", "at-most", 10.0, &near) + &rule("far", "at-least", 40.0, &far)));
    assert_eq!(off(&read(&book, 25.0, 10.0)), points("0.4"));
    let chosen =
        with(&book, |routine| routine.reads(OffVertical, 25.0, TEN).fault("near", Some("0.2")));
    assert_eq!(off(&chosen), points("0.3"));
}

#[test]
fn what_was_called_has_no_say_in_what_is_taken_of_a_reading() {
    // 95 of 85 to 105: the first is met from 100 on, the second, called not met, would be below 90.
    let book = like_base(
        &(rule("first", "at-least", 100.0, &bands("{ amount = 0.1 }"))
            + &rule("second", "at-most", 90.0, &bands("{ amount = 0.5 }"))),
    );
    let sheet = with(&book, |routine| {
        routine.reads(OffVertical, 95.0, TEN).call("second", CallAnswer::NotMet)
    });
    let taken = |rule| took(&sheet, rule).unwrap_or_default();
    assert_eq!((taken("first"), taken("second")), (Points::ZERO, points("0.5")));
}

#[test]
fn at_least_so_many_of_a_kind_leaves_less_room_for_others() {
    // Three places, two of them for dance: one acrobatic element of 0.3 and the one leap of 0.1.
    let book = like_base(
        "[[scoring]]\nformula = \"open\"\nexecution = 10.0\nbest = 3\n\
         limits = [{ tags = \"dance\", at_least = 2 }]\n",
    );
    let of = |elements: &[&str]| score(&book, &write("floor", "low").does(elements).done());
    let acro = ["round-off", "handspring", "salto"];
    assert_eq!(of(&acro).start_value.unwrap(), points("10.3"));
    assert_eq!(of(&[&acro[..], &["hop"]].concat()).start_value.unwrap(), points("10.4"));
    assert_eq!(
        of(&[&acro[..], &["hop", "split-leap"]].concat()).start_value.unwrap(),
        points("10.5")
    );
}
