//! How long a sheet takes: printed, never held against a limit, because machines differ.

use std::time::{Duration, Instant};

use stillcall::{
    marks::{At, Id, Mark, Seen, Sheaf, What},
    rulebook::{load, shipped},
    sheet::{Status, quick, score},
    units::{FrameIndex, FrameRef, Points, Ticks},
};

use crate::books::{P, book, write::write};

#[allow(clippy::unwrap_used, reason = "a test that cannot be set up has failed")]
/// Returns so many marks: elements, swings, help and falls in turn.
fn many(marks: u64) -> Sheaf {
    let book = load(shipped()[0]).unwrap();
    let elements: Vec<String> = book.elements_of("bars").map(|e| e.id.clone()).collect();
    let mut sheaf = Sheaf::default();
    sheaf.routine.event = "bars".into();
    sheaf.routine.division = "redshank".into();
    for index in 0..marks {
        let ticks = Ticks(index as i64);
        let at = At::Frame(FrameRef {
            ticks,
            index: FrameIndex(index),
            field: None,
            lo: ticks,
            hi: ticks,
        });
        let element = || elements[index as usize % elements.len()].clone();
        let what = match index % 4 {
            0 => What::Element { element: element() },
            1 => What::Swing,
            2 => What::Spot,
            _ => What::Fall,
        };
        let id = Id(index + 1);
        sheaf.marks.push(Mark { id, at, what, seen: Seen::Yes, of: None, note: String::new() });
    }
    sheaf
}

/// Prints how long sheets take, and how long it takes to read the same marks from JSON.
#[test]
#[ignore = "prints a measurement"]
#[allow(clippy::print_stdout, reason = "printing is all it does")]
fn ten_thousand_marks() {
    let book = load(shipped()[0]).unwrap();
    for marks in [1_000, 10_000, 100_000] {
        let sheaf = many(marks);
        let json = serde_json::to_string(&sheaf).unwrap();
        let read = best(|| drop(serde_json::from_str::<Sheaf>(&json).unwrap()));
        let quick = best(|| drop(quick(&book, &sheaf)));
        let ratio = quick.as_secs_f64() / read.as_secs_f64();
        println!("{marks} marks: {quick:?}, {ratio:.2} of reading them from JSON ({read:?})");
    }
}

/// Prints how much longer three times as many marks take, in odd files: where no element holds
/// them, and where all of them are the same.
#[test]
#[ignore = "prints a measurement"]
#[allow(clippy::print_stdout, reason = "printing is all it does")]
fn many_marks_in_odd_files() {
    let book = load(shipped()[0]).unwrap();
    let fault = |id: &str| What::Fault { fault: id.into(), amount: "0.1".parse().ok() };
    let kinds = [
        ("bars", "swings", What::Swing),
        ("bars", "falls", What::Fall),
        ("bars", "faults", fault("legs-bent")),
        ("bars", "faults of no book", fault("none-such")),
        ("bars", "the same element", What::Element { element: "cast".into() }),
        ("bars", "elements of no book", What::Element { element: "none-such".into() }),
        ("vault", "falls", What::Fall),
        ("vault", "faults", fault("legs-bent")),
    ];
    for (event, name, what) in kinds {
        let [few, many] = [10_000, 30_000].map(|marks| {
            let mut sheaf = all_alike(event, marks, &what);
            let sure = once(|| drop(score(&book, &sheaf)));
            sheaf.marks.iter_mut().for_each(|mark| mark.seen = Seen::CantTell);
            let doubtful = once(|| drop(score(&book, &sheaf)));
            [once(|| drop(quick(&book, &sheaf))), sure, doubtful]
        });
        for (of, at) in [("quick", 0), ("whole", 1), ("whole, in doubt", 2)] {
            let ratio = many[at].as_secs_f64() / few[at].as_secs_f64();
            println!("{event}, {name}, {of}: {:?}, then {:?}: {ratio:.1} times", few[at], many[at]);
        }
    }
}

fn all_alike(event: &str, marks: u64, what: &What) -> Sheaf {
    let mut sheaf = many(marks);
    sheaf.routine.event = event.into();
    sheaf.marks.iter_mut().for_each(|mark| mark.what = what.clone());
    sheaf
}

fn once(run: impl Fn()) -> Duration {
    let begin = Instant::now();
    run();
    begin.elapsed()
}

/// Prints how long a sheet with its range takes as more and more calls are open.
#[test]
#[ignore = "prints a measurement"]
#[allow(clippy::print_stdout, reason = "printing is all it does")]
fn many_open_calls() {
    let book = book(P);
    for open in [0, 4, 8, 12, 16, 64] {
        let begun = write("bars", "d4").does(&["pull-over", "cast"]).met("horizontal");
        let routine = (0..open).fold(begun, |routine, _| routine.maybe(What::Fall)).done();
        let (one, all) =
            (best(|| drop(quick(&book, &routine))), best(|| drop(score(&book, &routine))));
        let ratio = all.as_secs_f64() / one.as_secs_f64();
        println!("{open} open calls: {all:?}, {ratio:.0} times the sheet without range ({one:?})");
    }
    let many = many(10_000);
    let mut doubtful = many.clone();
    doubtful.marks.iter_mut().take(40).for_each(|mark| mark.seen = Seen::CantTell);
    for (name, sheaf) in [("none", many), ("40", doubtful)] {
        let book = load(shipped()[0]).unwrap();
        println!(
            "10,000 marks, {name} open, with range: {:?}",
            best(|| drop(score(&book, &sheaf)))
        );
    }
}

/// Returns the shortest of five runs, which other work disturbs least.
fn best(run: impl Fn()) -> Duration {
    let times = (0..5).map(|_| {
        let begin = Instant::now();
        run();
        begin.elapsed()
    });
    times.min().unwrap_or_default()
}

#[test]
fn the_quick_sheet_has_the_same_score_and_lines() {
    let routine = write("bars", "d4").does(&["pull-over", "cast"]).seen(What::Swing).done();
    let (quick, full) = (quick(&book(P), &routine), score(&book(P), &routine));
    assert_eq!((quick.score, quick.start_value), (full.score, full.start_value));
    let off = |lines: &[stillcall::sheet::Line]| -> Points { lines.iter().map(|l| l.amount).sum() };
    assert_eq!(off(&quick.deductions), off(&full.deductions));
}

/// Prints how long routines take whose elements could serve their requirements in very many ways.
#[test]
#[ignore = "prints a measurement"]
#[allow(clippy::print_stdout, reason = "printing is all it does")]
fn thousands_of_ways_of_serving() {
    let elements: Vec<String> = (0..12)
        .map(|at| {
            let tags = format!("[\"t{}\", \"t{}\"]", at % 4, at % 3);
            format!(
                "[[element]]\nid = \"e{at}\"\nname = \"e{at}\"\nevent = \"beam\"\n\
                 class = \"low\"\ntags = {tags}\n"
            )
        })
        .collect();
    let requirement = |at: usize, keys: &str| {
        let (tag, other) = (at % 4, (at + 1) % 4);
        format!(
            "[[requirement]]\nid = \"r{at}\"\nlabel = \"R{at}\"\nprice = 0.{}\n\
             tags = [\"t{tag}\", \"t{other}\"]\n{keys}\n",
            at + 1
        )
    };
    let passes = "count = 3\nconnected = true\ndistinct = false\n\
                  apart_from = [\"r0\", \"r1\", \"r2\", \"r3\", \"r4\", \"r5\"]";
    let series = "count = 3\nconnected = true\neach = true";
    let cases = [
        ("eight requirements that share nothing, 300 elements", "one", 8, "count = 4", 300),
        ("six passes apart, 60 elements", "many", 6, passes, 60),
        ("five series that share nothing, 20 elements", "one", 5, series, 20),
    ];
    for (what, sharing, requirements, keys, done) in cases {
        let asked: Vec<String> = (0..requirements).map(|at| requirement(at, keys)).collect();
        let text = format!(
            "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\n\n[[division]]\nid = \"low\"\n\
             name = \"Low\"\n\n[[event]]\nid = \"beam\"\nname = \"Beam\"\n\n[[class]]\n\
             id = \"low\"\nname = \"Low\"\n\n[[scoring]]\nformula = \"start-minus\"\n\
             start = 10.0\nsharing = \"{sharing}\"\n\n{}\n{}",
            elements.join("\n"),
            asked.join("\n")
        );
        let ids: Vec<String> = (0..done).map(|at| format!("e{}", at * 7 % 12)).collect();
        let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
        let (asking, sheaf) = (book(&text), write("beam", "low").does(&ids).done());
        let sheet = quick(&asking, &sheaf);
        let met = sheet.requirements.iter().filter(|line| line.status == Status::Met).count();
        let is_exact = sheet.remarks.iter().all(|line| line.rule != "at-least");
        let took = best(|| drop(quick(&asking, &sheaf)));
        // The same elements under a book that asks for nothing, to compare machines by.
        let plain = book(&text.replacen(&asked.join("\n"), "", 1));
        let ratio = took.as_secs_f64() / best(|| drop(quick(&plain, &sheaf))).as_secs_f64();
        println!(
            "{what}: {took:?}, {ratio:.0} times as long as without, {met} met, exact: {is_exact}"
        );
    }
}
