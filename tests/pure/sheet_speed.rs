//! How long a sheet takes: printed, never held against a limit, because machines differ.

use std::time::Instant;

use stillcall::{
    marks::{At, Id, Mark, Seen, Sheaf, What},
    rulebook::{load, shipped},
    sheet::{quick, score},
    units::{FrameRef, Points, Ticks},
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
        let at = At::Frame(FrameRef { ticks, index, field: None, lo: ticks, hi: ticks });
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

#[test]
#[ignore = "prints a measurement"]
#[allow(clippy::print_stdout, reason = "printing is all it does")]
fn ten_thousand_marks() {
    let book = load(shipped()[0]).unwrap();
    for marks in [1_000, 10_000, 100_000] {
        let sheaf = many(marks);
        let begin = Instant::now();
        let sheet = quick(&book, &sheaf);
        println!("{marks} marks, {} lines: {:?}", sheet.deductions.len(), begin.elapsed());
    }
}

#[test]
fn the_quick_sheet_has_the_same_score_and_lines() {
    let routine = write("bars", "d4").does(&["pull-over", "cast"]).seen(What::Swing).done();
    let (quick, full) = (quick(&book(P), &routine), score(&book(P), &routine));
    assert_eq!((quick.score, quick.start_value), (full.score, full.start_value));
    let off = |lines: &[stillcall::sheet::Line]| -> Points { lines.iter().map(|l| l.amount).sum() };
    assert_eq!(off(&quick.deductions), off(&full.deductions));
}
