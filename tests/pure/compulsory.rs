//! A routine beside its text or its plan, for every short routine: the longest order that both
//! have in common is found here by trying every selection of the text.

use stillcall::{
    rulebook::Book,
    sheet::{Status, differences, score},
    units::Points,
};

use crate::books::{
    ask::{example, like_base, took},
    write::write,
};

/// An element and what it is worth: left out it costs 0.5 and twice that.
const WORTH: [(&str, i64); 4] =
    [("kip", 300), ("cast", 100), ("hip-circle", 100), ("sole-circle", 100)];

/// Returns every routine of up to four of the elements.
fn routines() -> Vec<Vec<&'static str>> {
    let mut all = vec![Vec::new()];
    let mut longest = all.clone();
    for _ in 0..4 {
        let one_more = |routine: &Vec<&'static str>| {
            WORTH.map(|(element, _)| [&routine[..], &[element]].concat())
        };
        longest = longest.iter().flat_map(one_more).collect();
        all.extend(longest.iter().cloned());
    }
    all
}

/// Returns the length of the longest order that both have, by trying all selections of the first.
fn longest_in_common(text: &[&str], routine: &[&str]) -> usize {
    let selections = (0_u32..1 << text.len()).filter(|chosen| {
        let mut rest = routine.iter();
        let mut wanted = text.iter().enumerate().filter(|(at, _)| chosen >> at & 1 == 1);
        wanted.all(|(_, element)| rest.any(|done| done == element))
    });
    selections.map(u32::count_ones).max().unwrap() as usize
}

/// Returns what the routine costs: by counting each element on both sides.
fn cost(text: &[&str], routine: &[&str]) -> i64 {
    let count = |list: &[&str], element| list.iter().filter(|other| **other == element).count();
    let (mut both, mut cost) = (0, 0);
    for (element, worth) in WORTH {
        let (asked, done) = (count(text, element), count(routine, element));
        let shared = asked.min(done);
        both += shared;
        cost += (asked - shared) as i64 * (500 + 2 * worth) + (done - shared) as i64 * 300;
    }
    cost + (both - longest_in_common(text, routine)) as i64 * 100
}

/// The example's book with another text.
fn book(text: &[&str]) -> Book {
    let elements: Vec<String> = text.iter().map(|element| format!("\"{element}\"")).collect();
    like_base(&format!(
        "[[text]]\nid = \"bars-text\"\nlabel = \"Text\"\nevents = \"bars\"\nelements = [{}]\n\
         left_out = 0.5\nleft_out_value = 2\nadded = 0.3\nswapped = 0.1\n",
        elements.join(", ")
    ))
}

#[test]
fn every_short_routine_costs_what_counting_says() {
    for text in
        [["kip", "cast", "hip-circle", "sole-circle"], ["cast", "kip", "cast", "hip-circle"]]
    {
        let book = book(&text);
        for routine in routines() {
            let sheet = score(&book, &write("bars", "low").does(&routine).done());
            let taken = took(&sheet, "bars-text").unwrap_or_default();
            assert_eq!(taken, Points(cost(&text, &routine)), "{text:?} done as {routine:?}");
        }
    }
}

#[test]
fn the_most_that_was_done_as_planned_is_no_difference() {
    let planned = ["cast", "kip", "cast", "hip-circle"];
    let plan = write("bars", "low").does(&planned).done();
    for routine in routines() {
        let done = write("bars", "low").does(&routine).done();
        let changes = differences(&plan, &done);
        let kept = longest_in_common(&planned, &routine);
        let gone = changes.iter().filter(|change| change.planned.is_some()).count();
        let new = changes.iter().filter(|change| change.done.is_some()).count();
        assert_eq!((planned.len() - gone, routine.len() - new), (kept, kept), "{routine:?}");
        // Each change names what was done, in the order of the routine.
        let named = changes.iter().filter_map(|change| change.done.as_ref());
        assert!(named.clone().is_sorted_by_key(|(_, mark)| mark.0), "{routine:?}");
        for (element, mark) in named {
            assert_eq!(element, routine[mark.0 as usize - 1], "{routine:?}");
        }
    }
}

#[test]
fn each_line_names_its_element_and_where_it_was_done() {
    let lines = |elements: &[&str]| -> Vec<(String, Option<u64>)> {
        let sheet = score(&example("compulsory"), &write("bars", "low").does(elements).done());
        let lines = sheet.deductions.into_iter();
        lines.map(|line| (line.reason, line.mark.map(|mark| mark.0))).collect()
    };
    // The text: kip, cast, hip circle, circle to dismount.
    assert_eq!(
        lines(&["kip", "cast", "sole-circle", "circle-dismount"]),
        [
            ("Hip circle is left out.".to_owned(), None),
            ("Sole circle is not in the text.".to_owned(), Some(3)),
        ]
    );
    assert_eq!(
        lines(&["cast", "hip-circle", "circle-dismount", "kip"]),
        [("Kip stands in another place of the text.".to_owned(), Some(4))]
    );
}

#[test]
fn what_costs_nothing_stands_on_no_line_and_what_costs_names_its_page() {
    let text = |rest: &str| {
        format!(
            "[[text]]\nid = \"bars-text\"\nlabel = \"Text\"\nevents = \"bars\"\n\
             elements = [\"kip\", \"cast\"]\n{rest}\n"
        )
    };
    let lines = |rest: &str, elements: &[&str]| {
        score(&like_base(&text(rest)), &write("bars", "low").does(elements).done()).deductions
    };
    assert_eq!(lines("added = 0.3", &["cast", "kip"]), []);
    assert_eq!(lines("left_out = 0.5", &["cast", "kip", "hip-circle"]), []);
    let added = lines("added = 0.3\nwhere = \"p. 4\"", &["kip", "cast", "hip-circle"]);
    assert_eq!(added.len(), 1);
    assert_eq!((added[0].page.as_str(), added[0].status), ("p. 4", Status::Taken));
}
