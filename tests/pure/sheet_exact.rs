//! Who serves what is exact: held against trying every possibility.

use std::fmt::Write as _;

use proptest::{prelude::*, sample::select};
use stillcall::{
    marks::{Sheaf, What},
    rulebook::Book,
    sheet::{Status, score},
    units::Points,
};

use crate::books::{book, write::write};

/// Elements by id: their family, class and tags.
const ELEMENTS: &[(&str, &str, &str, &[&str])] = &[
    ("e0", "e0", "low", &["x"]),
    ("e1", "e1", "low", &["x", "y"]),
    ("e2", "e2", "high", &["y"]),
    ("e3", "e2", "high", &["x", "z"]),
    ("e4", "e4", "high", &["y", "z"]),
    ("e5", "e5", "low", &["z"]),
];

/// Requirements: tag, how many, whether different, whether each missing one is paid, price.
const REQUIREMENTS: &[(&str, usize, bool, bool, i64)] =
    &[("x", 2, true, false, 500), ("y", 2, true, true, 300), ("z", 1, true, false, 400)];

/// Value parts: class, how many, price of each.
const PARTS: &[(&str, usize, i64)] = &[("low", 2, 100), ("high", 2, 300)];

/// How many elements count where the best are added up, and how many of them may carry `x`.
const BEST: (usize, usize) = (3, 1);

fn text(formula: &str) -> String {
    let mut text = format!(
        "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\n\n[[division]]\nid = \"d\"\n\
         name = \"D\"\n\n[[event]]\nid = \"bars\"\nname = \"Bars\"\n\n[[class]]\nid = \"low\"\n\
         name = \"low\"\nvalue = 0.1\n\n[[class]]\nid = \"high\"\nname = \"high\"\nvalue = 0.3\n\n\
         [[scoring]]\n{formula}\nsharing = \"one\"\nsame_counts = 2\n\n"
    );
    for (at, (tag, count, distinct, each, price)) in REQUIREMENTS.iter().enumerate() {
        let _ = write!(
            text,
            "[[requirement]]\nid = \"r{at}\"\nlabel = \"R{at}\"\nevents = \"bars\"\n\
             price = {}\ntags = \"{tag}\"\ncount = {count}\ndistinct = {distinct}\n\
             each = {each}\n\n",
            Points(*price)
        );
    }
    let need: Vec<String> = PARTS
        .iter()
        .map(|(class, count, price)| {
            format!("{{ class = \"{class}\", count = {count}, price = {} }}", Points(*price))
        })
        .collect();
    let _ = write!(
        text,
        "[[value_parts]]\nevents = \"bars\"\nhigher_replaces = true\nneed = [{}]\n\n",
        need.join(", ")
    );
    for (id, family, class, tags) in ELEMENTS {
        let _ = write!(
            text,
            "[[element]]\nid = \"{id}\"\nname = \"{id}\"\nevent = \"bars\"\nclass = \"{class}\"\n\
             family = \"{family}\"\ntags = {tags:?}\n\n"
        );
    }
    text
}

fn start_minus() -> Book {
    book(&text("formula = \"start-minus\"\nstart = 10.0"))
}

fn open() -> Book {
    let (best, x) = BEST;
    let limits = format!("limits = [{{ tags = \"x\", at_most = {x} }}]");
    book(&text(&format!("formula = \"open\"\nexecution = 10.0\nbest = {best}\n{limits}")))
}

fn element(id: &str) -> (&'static str, &'static str, &'static [&'static str]) {
    let (_, family, class, tags) = ELEMENTS.iter().find(|(known, ..)| *known == id).unwrap();
    (family, class, tags)
}

/// Returns what the requirements miss at least, over every way of giving each element to one of
/// them or to none.
fn least_missing(done: &[&str], given: &mut Vec<Option<usize>>) -> i64 {
    if given.len() == done.len() {
        return REQUIREMENTS
            .iter()
            .enumerate()
            .map(|(at, (_, count, _, each, price))| {
                let served = given.iter().filter(|to| **to == Some(at)).count();
                let missing = count - served.min(*count);
                price * if *each { missing as i64 } else { i64::from(missing > 0) }
            })
            .sum();
    }
    let (family, _, tags) = element(done[given.len()]);
    let mut least = i64::MAX;
    for to in (0..REQUIREMENTS.len()).map(Some).chain([None]) {
        let fits = to.is_none_or(|at| {
            let (tag, _, distinct, ..) = REQUIREMENTS[at];
            let twice = given
                .iter()
                .zip(done)
                .any(|(other, id)| *other == Some(at) && element(id).0 == family);
            tags.contains(&tag) && !(distinct && twice)
        });
        if fits {
            given.push(to);
            least = least.min(least_missing(done, given));
            given.pop();
        }
    }
    least
}

/// Returns what the value parts miss at least, over every way of placing each element.
fn least_parts(done: &[&str], placed: &mut Vec<Option<usize>>) -> i64 {
    if placed.len() == done.len() {
        return PARTS
            .iter()
            .enumerate()
            .map(|(at, (_, count, price))| {
                let filled = placed.iter().filter(|to| **to == Some(at)).count();
                price * (count - filled.min(*count)) as i64
            })
            .sum();
    }
    // The same element counts twice here, and a third time not.
    let (family, class, _) = element(done[placed.len()]);
    let before = done[..placed.len()].iter().filter(|id| element(id).0 == family).count();
    let mut least = i64::MAX;
    for to in (0..PARTS.len()).map(Some).chain([None]) {
        let fits = to.is_none_or(|at| before < 2 && (PARTS[at].0 == class || PARTS[at].0 == "low"));
        if fits {
            placed.push(to);
            least = least.min(least_parts(done, placed));
            placed.pop();
        }
    }
    least
}

/// Returns the most that the best elements come to, over every choice of them.
fn most_worth(done: &[&str]) -> i64 {
    let counts = |at: usize| {
        let family = element(done[at]).0;
        done[..at].iter().filter(|id| element(id).0 == family).count() < 2
    };
    (0..1_u32 << done.len())
        .filter_map(|set| {
            let chosen: Vec<usize> = (0..done.len()).filter(|at| set >> at & 1 == 1).collect();
            let x = chosen.iter().filter(|at| element(done[**at]).2.contains(&"x")).count();
            let fits = chosen.len() <= BEST.0 && x <= BEST.1 && chosen.iter().all(|at| counts(*at));
            let worth = |at: &usize| if element(done[*at]).1 == "high" { 300 } else { 100 };
            fits.then(|| chosen.iter().map(worth).sum())
        })
        .max()
        .unwrap_or_default()
}

fn routine(done: &[&str]) -> Sheaf {
    write("bars", "d").does(done).done()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn requirements_that_share_no_element_miss_as_little_as_can_be(
        done in proptest::collection::vec(select(&["e0", "e1", "e2", "e3", "e4", "e5"][..]), 0..6),
    ) {
        let sheet = score(&start_minus(), &routine(&done));
        let missing: Points = sheet.requirements.iter().map(|line| line.amount).sum();
        prop_assert_eq!(missing, Points(least_missing(&done, &mut Vec::new())));
        // No element serves two.
        for line in &sheet.elements {
            let met = sheet.requirements.iter().filter(|r| r.status == Status::Met);
            prop_assert!(met.filter(|r| r.marks.contains(&line.mark)).count() <= 1);
        }
    }

    #[test]
    fn value_parts_miss_as_little_as_can_be(
        done in proptest::collection::vec(select(&["e0", "e1", "e2", "e3", "e4", "e5"][..]), 0..6),
    ) {
        let sheet = score(&start_minus(), &routine(&done));
        let missing: Points = sheet.value_parts.iter().map(|part| part.amount).sum();
        prop_assert_eq!(missing, Points(least_parts(&done, &mut Vec::new())));
    }

    #[test]
    fn the_best_elements_come_to_as_much_as_can_be(
        done in proptest::collection::vec(select(&["e0", "e1", "e2", "e3", "e4", "e5"][..]), 0..8),
    ) {
        let sheet = score(&open(), &routine(&done));
        let missing: Points = sheet.requirements.iter().map(|line| line.amount).sum();
        let missing_parts: Points = sheet.value_parts.iter().map(|part| part.amount).sum();
        // The best elements, 10.0 of execution, every requirement that is met, less the value parts
        // that are missing; difficulty is never less than nothing.
        let asked: i64 = REQUIREMENTS
            .iter()
            .map(|(_, count, _, each, price)| price * if *each { *count as i64 } else { 1 })
            .sum();
        let met = Points(asked) - missing;
        let difficulty = (Points(most_worth(&done)) + met - missing_parts).max(Points::ZERO);
        prop_assert_eq!(sheet.start_value.unwrap(), Points(10_000) + difficulty);
    }
}

#[test]
fn a_series_and_another_requirement_share_no_element() {
    // Two of x in a row, and one of y: with e1 in the only series, y must come from elsewhere.
    let series = "tags = \"x\"\ncount = 2\ndistinct = true";
    let text = text("formula = \"start-minus\"\nstart = 10.0");
    assert!(text.contains(series));
    let book = book(&text.replacen(series, &format!("{series}\nconnected = true"), 1));
    let missing = |done: &[&str]| -> Vec<Points> {
        let sheet = score(&book, &routine(done));
        sheet.requirements.iter().map(|line| line.amount).collect()
    };
    // e0 and e1 make the series; y has e2 and e4; nothing of z is left but e5.
    let met = [Points(0), Points(0), Points(0)];
    assert_eq!(missing(&["e0", "e1", "e2", "e4", "e5"]), met);
    // Without e4 one y is missing: e1 stays where it is worth more.
    assert_eq!(missing(&["e0", "e1", "e2", "e5"]), [Points(0), Points(300), Points(0)]);
    // A stop breaks the only series, so e1 serves y.
    let stopped = write("bars", "d").does(&["e0"]).seen(What::Stop).does(&["e1", "e2", "e5"]);
    let sheet = score(&book, &stopped.done());
    let missing: Vec<Points> = sheet.requirements.iter().map(|line| line.amount).collect();
    assert_eq!(missing, [Points(500), Points(0), Points(0)]);
    let why = &sheet.requirements[0].reason;
    assert_eq!(why, "e0 and e1 are not connected: a stop lies between.");
}
