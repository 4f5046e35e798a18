//! A score by its parts: what is taken is taken once, from one part, and given back once. The books are
//! these tests' own; every sum is worked out beside it.

use stillcall::{
    marks::What,
    rulebook::{read, render},
    sheet::{ScoreSheet, score},
    units::Points,
};

use crate::books::{
    ask::{off, points, took},
    book,
    write::{Writer, write},
};

const HEAD: &str = r#"
[book]
id = "parts"
title = "Parts"
edition = "1"

[[division]]
id = "gull"
name = "Gull"

[[event]]
id = "bars"
name = "Bars"

[[class]]
id = "low"
name = "Low"
value = 0.3

[[element]]
id = "kip"
name = "Kip"
event = "bars"
class = "low"

[[element]]
id = "cast"
name = "Cast"
event = "bars"
class = "low"
"#;

const START_MINUS: &str = "[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\n";
const HALF: &str = "[[scoring]]\nformula = \"start-minus-half\"\nstart = 10.0\n";
const BUCKETS: &str = "[[scoring]]\nformula = \"buckets\"\nbuckets = { value_parts = 3.0, \
                       requirements = 2.0, artistry = 1.0, execution = 4.0 }\n";
const OPEN: &str = "[[scoring]]\nformula = \"open\"\nexecution = 10.0\nbest = 4\n";

fn sheet(tables: &[&str], routine: Writer) -> ScoreSheet {
    let sheet = score(&book(&[&[HEAD], tables].concat().join("\n")), &routine.done());
    // The lines add up to the score, and so do the parts before the highest and the lowest.
    let shown = sheet.start_value.unwrap() - off(&sheet);
    assert_eq!(Some(shown), sheet.score, "{:#?}", sheet.deductions);
    let limits = ["floor", "ceiling"].map(|rule| took(&sheet, rule).unwrap_or_default());
    let parts: Points = sheet.parts.iter().map(|part| part.comes_to).sum();
    assert_eq!(parts - limits.into_iter().sum(), shown, "{:#?}", sheet.parts);
    sheet
}

fn bars() -> Writer {
    write("bars", "gull").does(&["kip"])
}

fn times(routine: Writer, fault: &str, amount: Option<&str>, count: usize) -> Writer {
    (0..count).fold(routine, |routine, _| routine.fault(fault, amount))
}

#[test]
fn a_cap_for_one_element_leaves_what_belongs_to_none() {
    // Two elements of the text are left out at 1.0 each; one element costs at most 0.5.
    let text = "[[text]]\nid = \"text\"\nlabel = \"Text\"\nelements = [\"kip\", \"cast\", \"cast\"]\n\
                left_out = 1.0\n";
    let cap = "[[cap]]\nid = \"cap\"\nlabel = \"One element\"\nat_most = 0.5\nper = \"element\"\n";
    let sheet = sheet(&[START_MINUS, text, cap], bars());
    assert_eq!((sheet.score, took(&sheet, "cap")), (Some(points("8.0")), None));
}

#[test]
fn artistry_counts_what_is_left_of_it() {
    // 0.4 once and three times nothing: the bucket of 1.0 comes to 0.6.
    let fault = "[[fault]]\nid = \"flat\"\nlabel = \"Flat\"\namount = 0.4\ncounts = \"once\"\n\
                 group = \"artistry\"\n";
    let sheet = sheet(&[BUCKETS, fault], times(bars(), "flat", None, 4));
    assert_eq!(sheet.score, Some(points("9.6")));
    let artistry = sheet.parts.iter().find(|part| part.id == "artistry").expect("a part");
    assert_eq!((artistry.taken, artistry.comes_to), (points("0.4"), points("0.6")));
}

const FREE: &str = "[[fault]]\nid = \"any\"\nlabel = \"Any\"\nup_to = 9.0\n";

#[test]
fn the_lowest_score_holds_however_a_score_is_built() {
    // 3.0 + 2.0 + 1.0 + 0 is 6.0 and below 6.5; 0.3 + 0 is below 6.5.
    for scoring in [BUCKETS, OPEN] {
        let scoring = format!("{scoring}floor = 6.5\n");
        let routine = times(bars(), "any", Some("9.0"), 2);
        assert_eq!(sheet(&[&scoring, FREE], routine).score, Some(points("6.5")));
    }
}

const LEGS: &str = "[[fault]]\nid = \"legs\"\nlabel = \"Legs\"\namount = 0.2\n\
                    group = [\"legs\", \"landing\"]\n";

fn cap(id: &str, rest: &str) -> String {
    format!("[[cap]]\nid = \"{id}\"\nlabel = \"{id}\"\n{rest}\n")
}

#[test]
fn two_caps_give_back_once_what_lies_above_both() {
    // 3 x 0.2 are 0.6: the first leaves 0.3, and of these the second leaves 0.2. Each names the second
    // group of the fault, or the first.
    let first = cap("first", "group = \"landing\"\nat_most = 0.3");
    let second = cap("second", "group = \"legs\"\nat_most = 0.2");
    let sheet = sheet(&[START_MINUS, LEGS, &first, &second], times(bars(), "legs", None, 3));
    assert_eq!(took(&sheet, "first"), Some(points("-0.3")));
    assert_eq!(took(&sheet, "second"), Some(points("-0.1")));
    assert_eq!(sheet.score, Some(points("9.8")));
}

#[test]
fn neutral_faults_that_a_cap_limits_are_not_halved() {
    // Neutral 2 x 0.3, at most 0.4; of 0.2 besides one half: 10.0 - 0.4 - 0.1.
    let line = "[[fault]]\nid = \"line\"\nlabel = \"Line\"\namount = 0.3\nneutral = true\n\
                group = \"lines\"\n";
    let most = cap("lines-cap", "group = \"lines\"\nat_most = 0.4");
    let routine = times(bars(), "line", None, 2).fault("legs", None);
    let sheet = sheet(&[HALF, line, LEGS, &most], routine);
    assert_eq!(sheet.score, Some(points("9.5")));
    let names: Vec<&str> = sheet.parts.iter().map(|part| part.id.as_str()).collect();
    assert_eq!(names, ["start", "execution", "neutral"]);
    assert_eq!(sheet.parts[1].taken, points("0.1"));
    assert_eq!(sheet.parts[2].taken, points("0.4"));
}

#[test]
fn value_parts_that_are_missing_cost_where_elements_add_up() {
    // 0.3 for the kip, one of two value parts missing at 0.2, execution 10.0.
    let parts = "[[value_parts]]\nneed = [{ class = \"low\", count = 2, price = 0.2 }]\n";
    let routine = || sheet(&[OPEN, parts], bars());
    assert_eq!(routine().score, Some(points("10.1")));
    assert_eq!(routine().subtotals(), [["Difficulty", "0.100"], ["Execution", "10.000"]]);
    // A part that comes to nothing says so: two are missing at 0.2, and nothing is shown.
    let none = sheet(&[OPEN, parts], write("bars", "gull"));
    assert_eq!(none.subtotals(), [["Difficulty", "0.000"], ["Execution", "10.000"]]);
}

#[test]
fn legs_landings_and_one_element_have_limits_of_their_own() {
    // At one element worth 0.3: legs 2 x 0.2, at most 0.3; landing 0.6 and the legs, at most 0.8; all
    // of it at most 0.3 + 0.4 = 0.7; the fall of 0.5 on top: 1.2.
    let fall = "[[when]]\nid = \"fall\"\nlabel = \"Fall\"\nmark = \"fall\"\namount = 0.5\n";
    let step = "[[fault]]\nid = \"step\"\nlabel = \"Step\"\namount = 0.6\ngroup = \"landing\"\n";
    let caps = [
        cap("legs-cap", "group = \"legs\"\nat_most = 0.3\nper = \"element\""),
        cap("landing-cap", "group = \"landing\"\nat_most = 0.8\nper = \"element\""),
        cap("worth-cap", "at_most = 0.4\nplus_value = true\nper = \"element\"\nexcept = \"fall\""),
    ];
    let routine = times(bars(), "legs", None, 2).fault("step", None).seen(What::Fall);
    let sheet = sheet(&[START_MINUS, LEGS, fall, step, &caps.concat()], routine);
    let given = ["legs-cap", "landing-cap", "worth-cap"].map(|rule| took(&sheet, rule));
    assert_eq!(given, ["-0.1", "-0.1", "-0.1"].map(|it| Some(points(it))));
    assert_eq!(sheet.score, Some(points("8.8")));
}

const BONUS: &str = "[[bonus]]\nid = \"kip-bonus\"\nlabel = \"Kip\"\nelements = \"kip\"\n\
                     amount = 0.4\n\n[[bonus]]\nid = \"cast-bonus\"\nlabel = \"Cast\"\n\
                     elements = \"cast\"\namount = 0.4\n";

#[test]
fn a_bonus_counts_as_far_as_the_start_value_may_go() {
    // 9.4 and 0.8 are 10.2; 10.0 count, and 0.2 is taken off.
    let scoring = "[[scoring]]\nformula = \"start-minus\"\nstart = 9.4\nstart_at_most = 10.0\n";
    let sheet = sheet(&[scoring, BONUS, LEGS], bars().does(&["cast"]).fault("legs", None));
    assert_eq!((sheet.start_value.unwrap(), sheet.score), (points("9.4"), Some(points("9.8"))));
    assert_eq!(sheet.subtotals()[0], ["Start value with bonus", "10.000"]);
    assert_eq!(sheet.subtotals()[1], ["Deductions", "\u{2212}0.200"]);
}

/// Difficulty with its bonus up to 0.5; artistry; work, of which half is taken.
const OWN: &str = r#"
[[scoring]]
formula = "parts"
best = 1
parts = [
  { id = "difficulty", label = "Difficulty", holds = ["elements", "bonus"], at_most = 0.5 },
  { id = "grace", label = "Grace", base = 2.0, groups = "grace", floor = 1.5 },
  { id = "work", label = "Work", base = 6.0, holds = "faults", share = 0.5 },
]
"#;

#[test]
fn a_programme_names_parts_of_its_own() {
    // Difficulty: one of two elements at 0.3, bonus 0.8, at most 0.5. Grace: 2.0 less 0.9, never below
    // 1.5. Work: 6.0 less half of 0.2 + 1.0, also of what is neutral, for no part holds that.
    let grace = "[[fault]]\nid = \"slow\"\nlabel = \"Slow\"\namount = 0.9\ngroup = \"grace\"\n";
    let line = "[[fault]]\nid = \"line\"\nlabel = \"Line\"\namount = 1.0\nneutral = true\n";
    let routine = bars().does(&["cast"]).fault("slow", None).fault("legs", None);
    let sheet = sheet(&[OWN, BONUS, grace, LEGS, line], routine.fault("line", None));
    let comes_to: Vec<Points> = sheet.parts.iter().map(|part| part.comes_to).collect();
    assert_eq!(comes_to, ["0.5", "1.5", "5.4"].map(points));
    assert_eq!(sheet.score, Some(points("7.4")));
    // Of elements that are alike the first counts, and says so.
    let says: Vec<&str> = sheet.elements.iter().map(|line| line.reason.as_str()).collect();
    assert_eq!(
        says,
        ["Counts toward difficulty with 0.3.", "Better elements take all places that it could."]
    );
}

#[test]
fn parts_that_cannot_be_settled_are_refused() {
    let refused = |scoring: &str| {
        let text = format!("{HEAD}\n{scoring}");
        render(&read(&text, "book").expect_err("an error"), &text, "book")
    };
    let cases = [
        (OWN.replace("holds = \"faults\", ", ""), "no part holds the faults"),
        (OWN.replace("\"grace\", label", "\"work\", label"), "two parts are called \"work\""),
        (OWN.replace("\"bonus\"]", "\"faults\"]"), "two parts hold \"faults\""),
        (OWN.replace("groups = \"grace\", ", ""), "the part \"grace\" never changes"),
        (OWN.replace("best = 1\n", ""), "\"best\" does not say how many elements count"),
        (
            OWN.replace("\"bonus\"]", "\"requirements\", \"met-requirements\"]"),
            "requirements would be counted twice",
        ),
        (format!("{OPEN}start = 9.0\n"), "start belongs to the formula \"start-minus\""),
        (format!("{START_MINUS}best = 9\n"), "best belongs to the formula \"open\" or \"parts\""),
    ];
    for (scoring, message) in cases {
        let said = refused(&scoring);
        assert!(said.contains(message), "{message}\n{said}");
    }
}
