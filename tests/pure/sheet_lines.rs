//! What the lines of a sheet say: sources, frames, open calls, uneven readings.

use stillcall::{
    geometry::input::CameraHeight,
    marks::{
        CallAnswer::CantTell,
        ClickedPoint, How,
        Manner::Brush,
        Phase::SecondFlight,
        Quantity::{BodyLine, OffVertical},
        Sheaf, What, renew,
    },
    report::score_sheet,
    sheet::{ScoreSheet, Status, score},
    units::{Coded, Degrees, FrameIndex, Magnitude, Points},
};

use crate::books::{
    P, Q, book,
    write::{Writer, bars_but_the_cast, write},
};

fn under_p(writer: Writer) -> ScoreSheet {
    score(&book(P), &writer.done())
}

/// Five low parts and everything asked for; a cast would be the sixth.
fn bars() -> Writer {
    bars_but_the_cast("d3")
}

#[test]
fn the_headline_names_only_the_open_calls_that_change_the_score() {
    // The fall in doubt takes 0.5; the leg fault in doubt has no amount and changes nothing.
    let routine = bars().does(&["cast"]).met("horizontal").maybe(What::Fall);
    let legs = What::Fault { fault: "legs".into(), amount: None };
    let sheet = under_p(routine.maybe(legs));
    let named: Vec<&str> = sheet.close_calls.iter().map(|call| call.label.as_str()).collect();
    assert_eq!(named, ["Seen or not: a fall"]);
    assert_eq!(sheet.close_calls[0].frames.len(), 1);
    let text = score_sheet(&sheet).text();
    let leave = "9.500 to 10.000\n\nClose calls that change the score\n  Seen or not: a fall";
    assert!(text.contains(leave), "{text}");
}

#[test]
fn an_open_call_that_counts_only_together_with_another_is_named() {
    // Of two casts in doubt one is enough for the requirement and the part, so that each alone
    // changes nothing, and both together cost 1.0.
    let two = bars().does(&["cast"]).call("horizontal", CantTell);
    let sheet = under_p(two.does(&["cast"]).call("horizontal", CantTell));
    assert_eq!(sheet.score_range.low, Points(9_000));
    let named: Vec<&str> = sheet.close_calls.iter().map(|call| call.label.as_str()).collect();
    assert_eq!(named, ["Cast: Cast at or above horizontal"; 2]);
}

#[test]
fn so_much_open_that_not_all_is_tried_still_finds_both_ends() {
    // Twenty falls in doubt are a million combinations. All of them cost 20 x 0.5, and the score
    // ends at nothing.
    let routine = (0..20).fold(bars(), |routine, _| routine.maybe(What::Fall));
    let sheet = under_p(routine.does(&["cast"]).met("horizontal"));
    assert_eq!((sheet.score_range.low, sheet.score_range.high), (Points(0), Points(10_000)));
    assert_eq!(sheet.close_calls.len(), 20);
    assert!(sheet.remarks.iter().any(|line| line.rule == "open"));
}

#[test]
fn an_interval_to_one_side_decides_by_that_side() {
    // 14.4 read, in truth 14.4 to 20.5: "within 20" is open above and closed below, although the
    // same width spread evenly would leave neither side closed.
    let cast = |interval: Option<[f64; 2]>| {
        let mut sheaf = write("bars", "optional").does(&["cast"]).reads(OffVertical, 14.4, 3.0);
        let reading = &mut sheaf.sheaf.readings[0];
        reading.how = How { interval: interval.map(|ends| ends.map(Magnitude)), ..How::default() };
        score(&book(Q), &sheaf.done())
    };
    let spread = |sheet: &ScoreSheet| sheet.score_range.high - sheet.score_range.low;
    // 0.05 from 10 to 20, 0.1 beyond (an American rule book, second-hand).
    let uneven = cast(Some([14.4, 20.5]));
    assert_eq!(spread(&uneven), Points(50));
    let said = &uneven.elements[0].decisions[0].reason;
    assert!(said.contains("14.4° read, in truth 14.4° to 20.5°"), "{said}");
    assert_eq!(spread(&cast(None)), Points(100));
    // An interval that does not hold its own value is none.
    assert_eq!(spread(&cast(Some([30.0, 40.0]))), Points(100));
}

/// A body line of so many degrees off vertical, 150 pixels long, clicked without a plane.
fn clicked(mut sheaf: Sheaf, degrees: f64, off_square: f64) -> Sheaf {
    let (sin, cos) = degrees.to_radians().sin_cos();
    let point = |name: &str, share: f64| ClickedPoint {
        name: name.into(),
        coded: Coded([320.0 + 150.0 * share * sin, 250.0 - 150.0 * share * cos]),
        frame: None,
    };
    let reading = &mut sheaf.readings[0];
    reading.points =
        vec![point("shoulder", 0.0), point("hip", 0.4), point("knee", 0.7), point("toe", 1.0)];
    reading.how = How {
        off_square: Some(Degrees(off_square)),
        line: Some([[100.0, 300.0], [100.0, 20.0]].map(Coded)),
        // As the table has it: only the camera's angle to the side is unsure.
        height: Some(CameraHeight::Table),
        joint_depth: Some(0.0),
        ..How::default()
    };
    sheaf
}

#[test]
fn a_camera_off_square_is_warned_of_on_the_line() {
    // A true 20 seen from 45 degrees off square reads 14.4 (computed from tan 20 x cos 45, table
    // of apparent deviations from vertical): the wrong band, and the sheet says so.
    let sheaf = write("bars", "optional").does(&["cast"]).reads(OffVertical, 0.0, 0.0).done();
    let mut sheaf = clicked(sheaf, 14.4, 45.0);
    renew(&mut sheaf);
    let [low, high] = sheaf.readings[0].how.interval.unwrap();
    assert!(low.0 > 10.0 && high.0 >= 19.5 && high.0 < 25.0, "{low:?} to {high:?}");
    let sheet = score(&book(Q), &sheaf);
    let said = &sheet.elements[0].decisions[0].reason;
    assert!(said.contains("in truth") && said.contains("off square by up to 45°"), "{said}");
    let page: Vec<String> =
        score_sheet(&sheet).text().split_whitespace().map(str::to_owned).collect();
    assert!(page.join(" ").contains("off square by up to 45°"));
    // Squarely filmed there is nothing to warn of.
    let mut square = clicked(sheaf, 14.4, 0.0);
    renew(&mut square);
    assert!(square.readings[0].how.warnings.is_empty());
}

#[test]
fn every_reading_is_told_with_its_own_plus_minus() {
    let sheet = under_p(bars().does(&["cast"]).reads(BodyLine, -7.0, 1.0));
    let said = &sheet.elements.last().unwrap().decisions[0].reason;
    // 1.96 standard uncertainties either way.
    assert!(said.starts_with("\u{2212}7° ± 2° read, 7° short"), "{said}");
    let off = score(
        &book(Q),
        &write("bars", "optional").does(&["cast"]).reads(OffVertical, 25.0, 1.0).done(),
    );
    assert!(off.deductions[0].reason.contains("25° ± 2° read"), "{}", off.deductions[0].reason);
}

#[test]
fn people_read_a_real_minus_and_programs_a_plain_one() {
    let routine = bars().does(&["cast"]).reads(BodyLine, -7.0, 1.0).seen(What::Fall).done();
    let sheet = score(&book(P), &routine);
    let text = score_sheet(&sheet).text();
    let mut letters = text.chars().zip(text.chars().skip(1));
    assert!(letters.all(|(sign, next)| sign != '-' || !next.is_ascii_digit()), "{text}");
    assert!(text.contains("\u{2212}0.500"), "{text}");
    let json = sheet.to_json();
    assert_eq!(json["deductions"][0]["amount"], "0.500");
    assert_eq!(json["elements"][7]["decisions"][0]["reading"][0], -7.0);
}

#[test]
fn lines_lead_to_their_frames_and_to_the_page_of_the_book() {
    let text = P
        .replacen(
            "class = \"low\"\ntags = \"cast\"",
            "class = \"low\"\ntags = \"cast\"\nwhere = \"p. 3\"",
            1,
        )
        .replacen("need = [", "where = \"p. 4\"\nneed = [", 1)
        .replacen("moment = \"highest\"", "moment = \"highest\"\nwhere = \"p. 5\"", 1);
    let sheet = score(&book(&text), &bars().does(&["cast"]).met("horizontal").done());
    let cast = sheet.elements.last().unwrap();
    assert_eq!((cast.page.as_str(), cast.decisions[0].page.as_str()), ("p. 3", "p. 5"));
    assert_eq!(cast.decisions[0].frames.len(), 1);
    assert_eq!(
        (sheet.value_parts[0].page.as_str(), sheet.value_parts[0].frames.len()),
        ("p. 4", 6)
    );
    // What is missing leads to the whole routine.
    let sheet = score(&book(&text), &bars().done());
    assert_eq!(sheet.value_parts[0].frames.len(), 2);
    assert_eq!(sheet.to_json()["value_parts"][0]["where"], "p. 4");
}

#[test]
fn the_warning_of_a_time_limit_is_said_and_takes_nothing() {
    // Beam: warning at 1:20, limit 1:30, over time 0.1 flat (an American rule book, second-hand).
    let rule = "[[time]]\nid = \"long\"\nlabel = \"Over time\"\nevents = \"beam\"\n\
                of = \"exercise\"\nat_most = 90\nwarn_at = 80\namount = 0.1\n\n[[element]]";
    let book = book(&P.replacen("[[element]]", rule, 1));
    let beam = |seconds: i64| {
        let mut sheaf = write("beam", "d3").done();
        let mut span = sheaf.routine.span.unwrap();
        span[1].ticks.0 = span[0].ticks.0 + seconds * 900;
        sheaf.routine.span = Some(span);
        let sheet = score(&book, &sheaf);
        sheet.deductions.iter().map(|line| (line.amount, line.status)).collect::<Vec<_>>()
    };
    assert_eq!(beam(80), []);
    assert_eq!(beam(81), [(Points(0), Status::NotCounted)]);
    assert_eq!(beam(90), [(Points(0), Status::NotCounted)]);
    assert_eq!(beam(91), [(Points(100), Status::Taken)]);
}

#[test]
fn a_fault_that_another_makes_count_nothing_is_close_where_that_other_is_in_doubt() {
    // A step is replaced by a fall; with the fall in doubt the step may or may not be taken.
    let touched = write("vault", "d2").hands(0).touches(
        stillcall::marks::BodyPart::Body,
        SecondFlight,
        Brush,
    );
    let sheet = under_p(touched.fault("step", None).maybe(What::Fall));
    let step = sheet.deductions.iter().find(|line| line.rule == "step").unwrap();
    assert_eq!((step.status, step.amount), (Status::Close, Points(100)));
    assert!(matches!(sheet.deductions[0].frames[..], [_]) && step.mark.is_some());
    assert!(
        step.reason.ends_with('.')
            && matches!(step.frames.first(), Some(at) if at.frame > FrameIndex::FIRST)
    );
}
