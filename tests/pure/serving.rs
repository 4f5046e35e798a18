//! Which elements serve a requirement, where one element may serve several. What each key means is
//! the guide's; amounts are worked out by hand: 0.4 for each element that is missing.

use std::fmt::Write as _;

use stillcall::{
    marks::{Seen, What},
    sheet::{ScoreSheet, Status, score},
    units::Points,
};

use crate::books::{ask::like_base, book, write};

/// Elements by id: family and tags.
const ELEMENTS: &[(&str, &str, &[&str])] = &[
    ("a", "a", &["leap"]),
    ("a-again", "a", &["leap"]),
    ("b", "b", &["leap"]),
    ("c", "c", &["leap"]),
    ("b-high", "b", &["leap", "high"]),
    ("turn", "turn", &["round"]),
    ("forward", "f", &["forward"]),
    ("backward", "g", &["backward"]),
    ("backward-f", "f", &["backward"]),
    ("forward-g", "g", &["forward"]),
];

/// What is missing of a requirement, and how many elements serve it.
fn missing(keys: &str, done: &[&str]) -> (Points, usize) {
    let price = format!("price = 0.4\n{keys}");
    missing_of_each(&[&price], done)[0]
}

/// The same of several requirements.
fn missing_of_each(requirements: &[&str], done: &[&str]) -> Vec<(Points, usize)> {
    let sheet = sheet_of(requirements, done);
    sheet.requirements.iter().map(|line| (line.amount, line.marks.len())).collect()
}

/// The sheet of these elements; what begins with "no " was looked for and did not happen, what
/// begins with "maybe " cannot be told.
fn sheet_of(requirements: &[&str], done: &[&str]) -> ScoreSheet {
    sheet_where("many", requirements, done)
}

/// The same where one element may serve many requirements, or one.
fn sheet_where(sharing: &str, requirements: &[&str], done: &[&str]) -> ScoreSheet {
    let mut text = format!(
        "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\n\n[[division]]\nid = \"d\"\n\
         name = \"D\"\n\n[[event]]\nid = \"floor\"\nname = \"Floor\"\n\n[[class]]\nid = \"low\"\n\
         name = \"low\"\n\n[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\n\
         sharing = \"{sharing}\"\n\n",
    );
    for (at, keys) in requirements.iter().enumerate() {
        let _ = write!(
            text,
            "[[requirement]]\nid = \"r{at}\"\nlabel = \"R{at}\"\nevents = \"floor\"\n{keys}\n\n"
        );
    }
    for (id, family, tags) in ELEMENTS {
        let _ = write!(
            text,
            "[[element]]\nid = \"{id}\"\nname = \"{id}\"\nevent = \"floor\"\nclass = \"low\"\n\
             family = \"{family}\"\ntags = {tags:?}\n\n"
        );
    }
    let mut sheaf = write::write("floor", "d").does(done).done();
    for mark in &mut sheaf.marks {
        let What::Element { element } = &mut mark.what else { continue };
        for (word, seen) in [("no ", Seen::No), ("maybe ", Seen::CantTell)] {
            if let Some(name) = element.strip_prefix(word) {
                (*element, mark.seen) = (name.to_owned(), seen);
            }
        }
    }
    score(&book(&text), &sheaf)
}

const NONE: Points = Points(0);
const ONE: Points = Points(400);
const TWO: Points = Points(800);

#[test]
fn different_elements_are_of_different_families() {
    let two = "tags = \"leap\"\ncount = 2\neach = true\ndistinct = true";
    assert_eq!(missing(two, &["a", "b"]), (NONE, 2));
    assert_eq!(missing(two, &["a", "a-again"]), (ONE, 1));
    assert_eq!(missing(two, &["a", "a-again", "b"]), (NONE, 2));
    assert_eq!(missing(two, &["turn"]).0, TWO);
    // No more serve it than are asked for.
    assert_eq!(missing(two, &["a", "b", "c"]), (NONE, 2));
    let alike = two.replace("true\ndistinct = true", "true\ndistinct = false");
    assert_eq!(missing(&alike, &["a", "a-again"]), (NONE, 2));
}

#[test]
fn a_series_is_no_longer_than_asked_for_and_of_different_families() {
    let two = "tags = \"leap\"\ncount = 2\nconnected = true\ndistinct = true";
    assert_eq!(missing(two, &["a", "b", "c"]), (NONE, 2));
    assert_eq!(missing(two, &["a", "a-again"]).0, ONE);
    assert_eq!(missing(two, &["a", "a-again", "b"]), (NONE, 2));
    assert_eq!(missing(two, &["a", "turn", "b"]).0, ONE);
    assert_eq!(
        missing(two, &["a", "no turn", "b"]),
        (NONE, 2),
        "what was not shown breaks nothing"
    );
    let alike = two.replace("distinct = true", "distinct = false");
    assert_eq!(missing(&alike, &["a", "a-again"]), (NONE, 2));
}

/// The high one comes last, and is of the family of the one before: the first two do not do.
#[test]
fn one_of_them_has_the_tag() {
    let two = "tags = \"leap\"\ncount = 2\ndistinct = true\nwith = \"high\"";
    assert_eq!(missing(two, &["a", "b", "b-high"]), (NONE, 2));
    assert_eq!(missing(two, &["a", "b", "c"]).0, ONE);
    assert_eq!(missing(two, &["b-high", "a"]), (NONE, 2));
}

#[test]
fn each_tag_counts_once_and_each_family_too() {
    let both = "tags = [\"forward\", \"backward\"]\ncount = 2\neach = true\neach_tag = true\n\
                distinct = true";
    assert_eq!(missing(both, &["forward", "backward"]), (NONE, 2));
    assert_eq!(missing(both, &["forward", "forward"]).0, ONE);
    assert_eq!(missing(both, &["forward", "backward-f"]).0, ONE);
    // The first one may leave its tag to another, so that a later one of its family serves.
    assert_eq!(missing(both, &["forward", "backward-f", "forward-g"]), (NONE, 2));
    let alike = both.replace("distinct = true", "distinct = false");
    assert_eq!(missing(&alike, &["forward", "backward-f"]), (NONE, 2));
}

#[test]
fn the_first_and_the_last_are_those_that_were_shown() {
    let last = "tags = \"leap\"\nplace = \"last\"";
    assert_eq!(missing(last, &["turn", "a"]), (NONE, 1));
    assert_eq!(missing(last, &["a", "turn"]).0, ONE);
    assert_eq!(missing(last, &["a", "no turn"]), (NONE, 1));
    let first = "tags = \"leap\"\nplace = \"first\"";
    assert_eq!(missing(first, &["a", "turn"]), (NONE, 1));
    assert_eq!(missing(first, &["turn", "a"]).0, ONE);
    assert_eq!(missing(first, &["no turn", "a"]), (NONE, 1));
}

#[test]
fn what_did_not_happen_serves_nothing() {
    let one = "tags = \"leap\"";
    assert_eq!(missing(one, &["a"]), (NONE, 1));
    assert_eq!(missing(one, &["no a"]), (ONE, 0));
    assert_eq!(missing(one, &["no a", "b"]), (NONE, 1));
}

/// Two passes of two leaps that share no element, the first worth 0.1 for each leap that is
/// missing, the second 0.5: what cannot serve both serves the dearer one.
#[test]
fn what_is_served_apart_costs_as_little_as_can_be() {
    let first = "price = 0.1\ntags = \"leap\"\ncount = 2\neach = true\napart_from = \"r1\"";
    let second = "price = 0.5\ntags = \"leap\"\ncount = 2";
    let missing = |done: &[&str]| -> Vec<Points> {
        missing_of_each(&[first, second], done).into_iter().map(|(amount, _)| amount).collect()
    };
    assert_eq!(missing(&["a", "b", "c", "b-high"]), [Points(0), Points(0)]);
    assert_eq!(missing(&["a", "b"]), [Points(200), Points(0)]);
    assert_eq!(missing(&["a", "b", "c"]), [Points(100), Points(0)]);
    assert_eq!(missing(&["turn"]), [Points(200), Points(500)]);
}

/// Two series of two leaps, each leap in one of them: four leaps in a row make both, three make the
/// dearer one.
#[test]
fn each_element_serves_one_series() {
    let series =
        |price: &str| format!("price = {price}\ntags = \"leap\"\ncount = 2\nconnected = true");
    let missing = |done: &[&str]| -> Vec<Points> {
        let sheet = sheet_where("one", &[&series("0.4"), &series("0.6")], done);
        sheet.requirements.iter().map(|line| line.amount).collect()
    };
    assert_eq!(missing(&["a", "b", "c", "b-high"]), [NONE, NONE]);
    assert_eq!(missing(&["a", "b", "turn", "c", "b-high"]), [NONE, NONE]);
    assert_eq!(missing(&["a", "b", "c"]), [ONE, NONE]);
    assert_eq!(missing(&["a", "turn", "c"]), [ONE, Points(600)]);
}

/// Where each element serves one requirement, the tags and the one of a tag count as ever.
#[test]
fn each_tag_and_the_one_of_a_tag_hold_where_each_element_serves_one() {
    let missing = |keys: &str, done: &[&str]| {
        sheet_where("one", &[&format!("price = 0.4\n{keys}")], done).requirements[0].amount
    };
    let both = "tags = [\"forward\", \"backward\"]\ncount = 2\neach = true\neach_tag = true";
    assert_eq!(missing(both, &["forward", "forward-g"]), ONE);
    assert_eq!(missing(both, &["forward", "backward"]), NONE);
    let two = "tags = \"leap\"\ncount = 2\nwith = \"high\"";
    assert_eq!(missing(two, &["a", "c"]), ONE);
    assert_eq!(missing(two, &["a", "b-high"]), NONE);
}

#[test]
fn it_is_said_who_shows_it_and_how_far_it_came() {
    let reason = |keys: &str, done: &[&str]| {
        sheet_of(&[&format!("price = 0.4\n{keys}")], done).requirements[0].reason.clone()
    };
    let two = "tags = \"leap\"\ncount = 2";
    assert_eq!(reason(two, &["turn"]), "No element of the routine shows it.");
    assert_eq!(reason(two, &["a", "turn"]), "Only 1 of 2 shown: a.");
    // Met by the first two; that the third is apart from them is nobody's matter.
    let series = "tags = \"leap\"\ncount = 2\nconnected = true";
    assert_eq!(reason(series, &["a", "b", "turn", "c"]), "Shown by a and b.");
    let apart = "a and c are not connected: turn lies between.";
    assert_eq!(reason(series, &["a", "turn", "c"]), apart);
}

#[test]
fn it_is_said_what_went_to_another_requirement() {
    let leap = "price = 0.4\ntags = \"leap\"";
    let high = "price = 0.9\ntags = \"high\"";
    // The high one counts for the dearer requirement, and nothing else is a leap.
    let sheet = sheet_where("one", &[leap, high], &["b-high"]);
    assert_eq!(sheet.requirements[0].reason, "b-high already counted for \"R1\".");
    // The second pass is the first one again.
    let pass = "price = 0.4\ntags = \"leap\"\ncount = 2\nconnected = true";
    let other = format!("{pass}\napart_from = \"r0\"");
    let sheet = sheet_of(&[pass, &other], &["a", "b", "turn", "a", "b"]);
    assert_eq!(sheet.requirements[0].status, Status::Met);
    let why = &sheet.requirements[1].reason;
    assert_eq!(why, "a and b already counted for \"R0\".");
}

#[test]
fn what_was_not_tried_in_every_way_is_said() {
    // Twelve passes of two leaps apart from each other, in a row of thirty: a and b, b and c, c and a are
    // three passes, and all others repeat one of them. That no fourth is there takes too long to try.
    let apart = |passes: usize| {
        let ids: Vec<String> = (0..passes).map(|at| format!("\"r{at}\"")).collect();
        let apart = ids.join(", ");
        format!("price = 0.4\ntags = \"leap\"\ncount = 2\nconnected = true\napart_from = [{apart}]")
    };
    let done: Vec<&str> = ["a", "b", "c"].repeat(10);
    let sheet = sheet_of(&[&apart(12)[..]; 12], &done);
    let met = sheet.requirements.iter().filter(|line| line.status == Status::Met).count();
    assert_eq!(met, 3);
    assert!(sheet.remarks.iter().any(|line| line.rule == "at-least"), "{:?}", sheet.remarks);
    let repeated = &sheet.requirements[11].reason;
    assert!(repeated.ends_with("already counted for \"R0\"."), "{repeated}");
    // Two of them are tried in every way.
    let sheet = sheet_of(&[&apart(2)[..]; 2], &done);
    assert!(sheet.remarks.iter().all(|line| line.rule != "at-least"), "{:?}", sheet.remarks);
}

/// Two leaps in a row under these keys, with something between them.
fn with_between(keys: &str, between: &[What]) -> (Points, String) {
    let leaps = "[[requirement]]\nid = \"r\"\nlabel = \"R\"\nevents = \"beam\"\ntags = \"leap\"\n\
                 count = 2\nprice = 0.4\nconnected = true\n";
    let routine = write::write("beam", "low").does(&["leap"]);
    let routine = between.iter().fold(routine, |routine, what| routine.seen(what.clone()));
    let sheaf = routine.does(&["long-leap"]).done();
    let own = "[[element]]\nid = \"long-leap\"\nname = \"Long leap\"\nevent = \"beam\"\n\
               class = \"a\"\ntags = \"leap\"\n";
    let sheet = score(&like_base(&format!("{leaps}{keys}\n{own}")), &sheaf);
    (sheet.requirements[0].amount, sheet.requirements[0].reason.clone())
}

#[test]
fn a_series_is_broken_by_what_its_rule_names() {
    for (word, what, said) in [
        ("fall", What::Fall, "a fall"),
        ("swing", What::Swing, "a swing"),
        ("spot", What::Spot, "help"),
        ("stop", What::Stop, "a stop"),
    ] {
        let keys = format!("breaks = \"{word}\"");
        let why = format!("Leap and Long leap are not connected: {said} lies between.");
        assert_eq!(with_between(&keys, std::slice::from_ref(&what)), (ONE, why));
        let other = if word == "stop" { "fall" } else { "stop" };
        assert_eq!(with_between(&format!("breaks = \"{other}\""), &[what]).0, NONE, "{word}");
    }
}

/// Ten frames of a thirtieth lie between two marks, so that the third after one is a second later.
#[test]
fn a_series_may_take_as_long_as_its_rule_says() {
    let later = [What::HeelLift, What::HeelDrop];
    assert_eq!(with_between("gap = 1", &later).0, NONE);
    assert_eq!(with_between("gap = 0.9", &later).0, ONE);
}

/// A leap and a jump in a row add 0.1.
#[test]
fn a_connection_is_a_line_of_its_own_with_its_page() {
    let rule = "[[connection]]\nid = \"c\"\nlabel = \"C\"\nevents = \"beam\"\n\
                series = [\"leap\", \"jump\"]\namount = 0.1\nat_most = 2\nwhere = \"p. 9\"\n\n\
                [[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 1, price = 0.4 }]\n";
    let sheet =
        score(&like_base(rule), &write::write("beam", "low").does(&["leap", "jump"]).done());
    let line = sheet.deductions.iter().find(|line| line.rule == "c").unwrap();
    assert_eq!(
        (line.amount, line.status, line.page.as_str()),
        (Points(-100), Status::Taken, "p. 9")
    );
    assert_eq!(line.reason, "Leap and Jump follow one another.");
    assert_eq!(sheet.value_parts[0].reason, "It is there.");
}

/// Whether it happened is open, so the score lies between 10.0 with it and 9.6 without.
#[test]
fn what_cannot_be_told_leaves_the_score_open() {
    let ends = |done: &[&str]| {
        let range = sheet_of(&["price = 0.4\ntags = \"leap\""], done).score_range;
        [range.low, range.high]
    };
    assert_eq!(ends(&["maybe a"]), [Points(9_600), Points(10_000)]);
    assert_eq!(ends(&["maybe a", "b"]), [Points(10_000), Points(10_000)]);
    assert_eq!(ends(&["maybe turn"]), [Points(9_600), Points(9_600)]);
}
