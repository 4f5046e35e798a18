//! What holds for every routine and every text, tried on many made up ones.

use proptest::{prelude::*, sample::select};
use stillcall::{
    marks::{
        At, BodyPart, Call, CallAnswer, Contact, Facing, How, Id, LandingOn, Manner, Mark, Phase,
        Quantity, Reading, Seen, Sheaf, What,
    },
    report::score_sheet,
    rulebook::{load, read, render, shipped_text},
    sheet::{Combined, Status, combine, score},
    units::{FrameIndex, FrameRef, Magnitude, Points, Ticks},
};

use crate::books::{P, book, write::write};

/// Every change of `make mutants` runs them, so there fewer have to do.
const CASES: u32 = if cfg!(mutants) { 40 } else { 200 };

const ELEMENTS: &[&str] = &[
    "pull-over",
    "cast",
    "back-hip-circle",
    "squat-on",
    "tap-swing",
    "counter-swing",
    "leap",
    "half-turn",
    "handstand",
    "tap-swing-half-dismount",
    "handspring",
    "not-there",
];
const FAULTS: &[&str] = &["legs", "step", "squat", "rhythm", "not-there"];
const RULES: &[&str] = &["horizontal", "leap-split", "half-turn", "handstand"];

fn what() -> impl Strategy<Value = What> {
    let element = select(ELEMENTS).prop_map(|id| What::Element { element: id.into() });
    let fault = (select(FAULTS), proptest::option::of(0_i64..600))
        .prop_map(|(id, amount)| What::Fault { fault: id.into(), amount: amount.map(Points) });
    let contact = (
        select(&[BodyPart::Head, BodyPart::Seat][..]),
        select(&[Phase::Support, Phase::SecondFlight][..]),
        select(&[Manner::Brush, Manner::Support, Manner::CantTell][..]),
    )
        .prop_map(|(part, phase, manner)| What::Contact(Contact { part, phase, manner }));
    let landing = (
        select(&[LandingOn::Feet, LandingOn::Apparatus][..]),
        proptest::option::of(select(&[Facing::Away, Facing::Towards][..])),
        proptest::option::of(select(&[0_u16, 90, 180][..])),
    )
        .prop_map(|(on, facing, turn)| What::Landing { on, facing, turn });
    let hands = proptest::option::of(select(&[0_u16, 90, 180][..]))
        .prop_map(|turn| What::HandContact { turn });
    let plain = select(&[What::Fall, What::Spot, What::Swing, What::Stop, What::Note][..]);
    prop_oneof![4 => element, 2 => fault, 1 => contact, 1 => landing, 1 => hands, 1 => plain]
}

/// What costs something, or nothing, and never helps.
fn bad() -> impl Strategy<Value = What> {
    let fault = (select(FAULTS), proptest::option::of(0_i64..600))
        .prop_map(|(id, amount)| What::Fault { fault: id.into(), amount: amount.map(Points) });
    let contact = (
        select(&[BodyPart::Head, BodyPart::Seat][..]),
        select(&[Phase::Support, Phase::SecondFlight][..]),
        select(&[Manner::Brush, Manner::Support, Manner::CantTell][..]),
    )
        .prop_map(|(part, phase, manner)| What::Contact(Contact { part, phase, manner }));
    let plain = select(&[What::Fall, What::Spot, What::Swing, What::Stop][..]);
    prop_oneof![fault, contact, plain]
}

fn routine() -> impl Strategy<Value = Sheaf> {
    let seen = prop_oneof![9 => Just(Seen::Yes), 1 => Just(Seen::CantTell), 1 => Just(Seen::No)];
    let marks = proptest::collection::vec((what(), seen, 0_i64..50), 0..14);
    let calls = proptest::collection::vec(
        (
            0_u64..14,
            select(RULES),
            select(&[CallAnswer::Met, CallAnswer::NotMet, CallAnswer::CantTell][..]),
        ),
        0..4,
    );
    let quantity = select(&[Quantity::BodyLine, Quantity::Split, Quantity::Turn][..]);
    let readings =
        proptest::collection::vec((0_u64..14, quantity, -30.0..200.0_f64, 0.0..4.0_f64), 0..4);
    let place = (select(&["vault", "bars", "beam"][..]), select(&["d1", "d2", "d3", "d4"][..]));
    (place, marks, calls, readings).prop_map(|((event, division), marks, calls, readings)| {
        let mut sheaf = write(event, division).done();
        for (at, (what, seen, ticks)) in marks.into_iter().enumerate() {
            let (id, note) = (Id(at as u64), String::new());
            sheaf.marks.push(Mark { id, at: frame(ticks), what, seen, of: None, note });
        }
        for (at, (of, asks, answer)) in calls.into_iter().enumerate() {
            let (id, of, at) = (Id(100 + at as u64), Id(of), frame(at as i64));
            sheaf.calls.push(Call { id, of, asks: asks.into(), answer, at });
        }
        for (at, (of, quantity, value, u)) in readings.into_iter().enumerate() {
            let (id, of, at) = (Id(200 + at as u64), Id(of), frame(at as i64));
            let (value, u, points) = (Magnitude(value), Magnitude(u), Vec::new());
            let how = How::default();
            sheaf.readings.push(Reading { id, of, quantity, value, u, at, points, how });
        }
        sheaf
    })
}

fn frame(ticks: i64) -> At {
    let ticks = Ticks(ticks * 30);
    At::Frame(FrameRef {
        ticks,
        index: FrameIndex(ticks.0 as u64 / 30),
        field: None,
        lo: ticks,
        hi: ticks,
    })
}

fn sum(amounts: impl Iterator<Item = Points>) -> Points {
    amounts.sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_in_the_file_does_not_matter(sheaf in routine()) {
        let book = book(P);
        let mut turned = sheaf.clone();
        turned.marks.reverse();
        turned.calls.reverse();
        turned.readings.reverse();
        prop_assert_eq!(score(&book, &sheaf).to_json(), score(&book, &turned).to_json());
    }

    #[test]
    fn the_lines_add_up_to_the_score_and_the_range_holds_it(sheaf in routine()) {
        let sheet = score(&book(P), &sheaf);
        if let Some(score) = sheet.score {
            prop_assert_eq!(sheet.start_value.unwrap() - sum(sheet.deductions.iter().map(|l| l.amount)), score);
            prop_assert!(sheet.score_range.low <= score && score <= sheet.score_range.high);
            prop_assert!(score >= Points::ZERO);
        } else {
            prop_assert!(sheet.score_range.may_be_void);
        }
        if sheaf.routine.event != "vault" {
            let missing = sum(sheet.requirements.iter().map(|line| line.amount))
                + sum(sheet.value_parts.iter().map(|part| part.amount));
            prop_assert_eq!(Points(10_000) - missing, sheet.start_value.unwrap());
        }
        prop_assert!(score_sheet(&sheet).text().lines().all(|line| line.chars().count() <= 96));
    }

    #[test]
    fn another_fault_never_raises_the_score(
        sheaf in routine(), what in bad(), seen in select(&[Seen::Yes, Seen::CantTell][..]),
        at in 0_i64..50,
    ) {
        // Only in a book whose replacements cost at least what they replace: here a fall of 1.0
        // stands in the place of landing faults that come to 0.8 at most.
        let dear = P.replace("mark = \"fall\"\namount = 0.5", "mark = \"fall\"\namount = 1.0");
        assert_ne!(dear, P);
        let book = book(&dear);
        let before = score(&book, &sheaf);
        let mut more = sheaf.clone();
        more.marks.push(Mark { id: Id(1000), at: frame(at), what, seen, of: None, note: String::new() });
        let after = score(&book, &more);
        prop_assert!(after.score <= before.score, "{:?} to {:?}", before.score, after.score);
        prop_assert!(after.start_value <= before.start_value);
    }

    #[test]
    fn void_is_never_averaged(scores in proptest::collection::vec(proptest::option::of(0_i64..10_000), 1..7)) {
        let scores: Vec<Option<Points>> = scores.into_iter().map(|score| score.map(Points)).collect();
        let void = scores.iter().filter(|score| score.is_none()).count();
        let q = book(crate::books::Q);
        for rule in &[q.panel_of("beam", "optional").unwrap().clone(), stillcall::rulebook::Panel {
            combine: stillcall::rulebook::Combine::Mean, ..q.panel_of("beam", "optional").unwrap().clone()
        }] {
            match combine(rule, &scores) {
                Combined::VoidDisputed { void: said, scored } => {
                    prop_assert_eq!((said, scored), (void, scores.len() - void));
                    prop_assert!(void > 0 && scored > 0);
                }
                Combined::Void => prop_assert_eq!(void, scores.len()),
                Combined::Score { score } => {
                    prop_assert_eq!(void, 0);
                    let all = || scores.iter().flatten();
                    prop_assert!(*all().min().unwrap() <= score && score <= *all().max().unwrap());
                }
                Combined::TooFarApart { .. } | Combined::TooFew => prop_assert_eq!(void, 0),
            }
        }
    }

    #[test]
    fn every_line_has_its_frames_and_its_reason(sheaf in routine()) {
        let sheet = score(&book(P), &sheaf);
        for line in sheet.deductions.iter().chain(&sheet.void_reasons).chain(&sheet.remarks) {
            prop_assert!(!line.frames.is_empty() && line.reason.ends_with('.'), "{:?}", line);
        }
        for line in &sheet.requirements {
            prop_assert!(!line.frames.is_empty() && line.reason.ends_with('.'), "{:?}", line);
        }
    }

    #[test]
    fn any_bytes_give_errors_and_never_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let text = String::from_utf8_lossy(&bytes);
        if let Err(errors) = read(&text, "bytes") {
            prop_assert!(!errors.is_empty());
            prop_assert!(render(&errors, &text, "bytes").contains("error"));
        }
    }

    #[test]
    fn a_damaged_book_gives_errors_and_never_a_panic(
        cuts in proptest::collection::vec((any::<prop::sample::Index>(), any::<char>()), 1..6),
    ) {
        let mut text: Vec<char> = P.chars().collect();
        for (at, put) in cuts {
            let at = at.index(text.len());
            text[at] = put;
        }
        let text: String = text.into_iter().collect();
        if let Err(errors) = read(&text, "damaged") {
            prop_assert!(errors.iter().all(|error| error.line >= 1 && error.column >= 1));
            prop_assert!(!render(&errors, &text, "damaged").is_empty());
        }
    }

    #[test]
    fn whole_lines_swapped_give_errors_and_never_a_panic(
        a in any::<prop::sample::Index>(), b in any::<prop::sample::Index>(),
    ) {
        let text = shipped_text("saltmarsh").unwrap();
        let mut lines: Vec<&str> = text.lines().collect();
        let (a, b) = (a.index(lines.len()), b.index(lines.len()));
        lines.swap(a, b);
        let text = lines.join("\n");
        if let Err(errors) = read(&text, "swapped") {
            prop_assert!(!render(&errors, &text, "swapped").is_empty());
        }
    }
}

#[test]
fn the_json_has_the_keys_that_other_programs_read() {
    let sheaf = write("bars", "d3").does(&["pull-over"]).not_met("horizontal").done();
    let json = score(&book(P), &sheaf).to_json();
    for key in [
        "start_value",
        "score",
        "score_range",
        "void",
        "void_reasons",
        "value_parts",
        "requirements",
        "deductions",
        "win_back",
    ] {
        assert!(json.get(key).is_some(), "{key}");
    }
    assert_eq!(json["start_value"], "5.500");
    assert_eq!(json["score_range"]["may_be_void"], false);
    let cast = &json["requirements"][0];
    assert_eq!(
        (&cast["id"], &cast["status"], &cast["amount"]),
        (&"cast".into(), &"missed".into(), &"0.500".into())
    );
    assert_eq!(cast["frames"][1]["ticks"], 9000);
    assert_eq!(cast["frames"][1]["time_s"], 10.0);
}

#[test]
fn close_lines_say_so() {
    let sheaf = write("bars", "d3").does(&["cast"]).reads(Quantity::BodyLine, 0.1, 1.0).done();
    let sheet = score(&book(P), &sheaf);
    assert_eq!(sheet.elements[0].status, Status::Close);
    assert_eq!(sheet.elements[0].decisions[0].status, Some(Status::Close));
    assert_eq!(sheet.value_parts[0].status, Status::Close);
}

#[test]
fn a_routine_of_no_event_is_said_not_guessed() {
    let sheet = score(&load("saltmarsh").unwrap(), &Sheaf::default());
    assert_eq!(sheet.remarks[0].rule, "no-rules");
}
