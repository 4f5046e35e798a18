//! The numbers of the rule book guide: every worked line is scored, so that none can drift.

use std::{collections::BTreeSet, fs};

use stillcall::{
    marks::{At, Facing::Away, LandingOn, Quantity, Sheaf, What},
    rulebook::{Book, read},
    sheet::{Combined, ScoreRange, ScoreSheet, attempts, combine, score},
    units::Points,
};

use crate::{
    books::{
        ask::{example, kinds, off, points, took},
        lines::{mark, routine_of},
        write::{Writer, at, lasting, write},
    },
    guide::{GUIDE, examples},
};

/// A worked line of the guide.
struct Worked<'a> {
    example: &'a str,
    routine: &'a str,
    makes: &'a str,
    because: &'a str,
}

fn worked() -> Vec<Worked<'static>> {
    let section = GUIDE.split("## Every kind with numbers").nth(1).unwrap();
    let section = section.split("\n## ").next().unwrap();
    let rows = section.lines().filter_map(|line| line.strip_prefix("| `")?.strip_suffix(" |"));
    rows.map(|row| {
        let cells: Vec<&str> = row.split(" | ").collect();
        let [example, routine, makes, because] = cells[..] else { panic!("{row}") };
        Worked { example: example.trim_end_matches('`'), routine, makes, because }
    })
    .collect()
}

#[test]
fn every_kind_has_a_worked_line() {
    let files = fs::read_dir(kinds("valid")).unwrap().flatten();
    let kinds: BTreeSet<String> =
        files.map(|file| file.path().file_stem().unwrap().to_str().unwrap().to_owned()).collect();
    let lines = worked();
    assert_eq!(kinds, lines.iter().map(|line| line.example.to_owned()).collect());
    assert!(lines.iter().all(|line| !line.because.is_empty()));
}

#[test]
fn every_worked_line_makes_what_it_says() {
    for Worked { example: name, routine, makes, .. } in worked() {
        let book = example(name);
        let (place, marked) = routine.split_once(": ").unwrap();
        let (event, division) = place.split_once(' ').unwrap();
        let (makes, rest) = makes.split_once(", ").unwrap_or((makes, ""));
        let makes = (makes != "void").then(|| points(makes));
        if let Some(several) = several(&book, (event, division), marked) {
            assert_eq!(Some(several), makes, "{name}: {routine}");
            continue;
        }
        let sheet = score(&book, &routine_of(&book, routine));
        assert_eq!(sheet.score, makes, "{name}: {routine}: {sheet:#?}");
        assert!(rest != "said" || !sheet.remarks.is_empty(), "{name}: {routine}: nothing is said");
        let range = |text: &str| text.split_once(" to ").map(|(low, high)| [low, high].map(points));
        let [low, high] = range(rest).unwrap_or([makes.unwrap_or_default(); 2]);
        let may_be_void = makes.is_none();
        assert_eq!(sheet.score_range, ScoreRange { low, high, may_be_void }, "{name}: {routine}");
    }
}

/// Returns what the scores of several judges or attempts come to; nothing of a single routine.
fn several(book: &Book, (event, division): (&str, &str), marked: &str) -> Option<Points> {
    let (of, scores) = marked.split_once(' ')?;
    let scores = || -> Vec<Option<Points>> {
        scores.split(' ').map(|score| (score != "void").then(|| points(score))).collect()
    };
    match of {
        "attempts" => attempts(book.attempts_of(event, division).unwrap(), &scores()),
        "judges" => match combine(book.panel_of(event, division).unwrap(), &scores()) {
            Combined::Score { score } => Some(score),
            other => panic!("{marked}: {other:?}"),
        },
        _ => None,
    }
}

/// Returns the book that the examples of the guide make together.
fn guide() -> Book {
    read(&examples(), "guide").unwrap().0
}

fn under_guide(writer: Writer) -> ScoreSheet {
    score(&guide(), &writer.done())
}

fn costs(writer: Writer, rule: &str) -> Option<Points> {
    took(&under_guide(writer), rule)
}

/// Returns what a requirement or the value parts cost.
fn missing(writer: Writer, requirement: &str) -> Points {
    let sheet = under_guide(writer);
    let found = sheet.requirements.iter().find(|line| line.id == requirement);
    found.unwrap_or_else(|| panic!("no {requirement}")).amount
}

#[test]
fn what_the_guide_works_out_of_parts_requirements_and_connections_is_so() {
    let parts = |elements: &[&str]| -> Points {
        let sheet = under_guide(write("bars", "tern").does(elements));
        sheet.value_parts.iter().map(|part| part.amount).sum()
    };
    assert_eq!(parts(&["hip-circle", "cast"]), points("0.6"));
    assert_eq!(parts(&["handstand", "giant"]), points("0.0"));
    let gull = |elements: &[&str]| write("floor", "gull").does(elements);
    assert_eq!(missing(gull(&["split-leap"]), "two-leaps"), points("0.4"));
    assert_eq!(missing(gull(&[]), "two-leaps"), points("0.8"));
    assert_eq!(missing(gull(&["split-leap", "stag-leap"]), "two-leaps"), points("0.0"));
    let beam = |elements: &[&str]| write("beam", "gull").does(elements);
    assert_eq!(missing(beam(&["walkover", "walkover"]), "directions"), points("0.2"));
    assert_eq!(missing(beam(&["walkover", "cartwheel"]), "directions"), points("0.0"));
    let tern = |elements: &[&str]| write("floor", "tern").does(elements);
    let pass =
        |between: &str| missing(tern(&["split-leap", between, "cartwheel-on-floor"]), "first-pass");
    assert_eq!((pass("steps"), pass("stag-leap")), (points("0.0"), points("0.0")));
    // Marks of the writer stand a third of a second apart: 4 between are 1.667 s, 3 are 1.333 s.
    let noted = |count| {
        let begun = tern(&["split-leap"]);
        let noted = (0..count).fold(begun, |writer: Writer, _| writer.seen(What::Note));
        missing(noted.does(&["cartwheel-on-floor"]), "first-pass")
    };
    assert_eq!((noted(3), noted(4)), (points("0.0"), points("0.3")));
    let adds = |elements: &[&str]| costs(beam(elements), "flight-into-jump");
    assert_eq!(adds(&["cartwheel", "tuck-jump"]), Some(points("-0.1")));
    assert_eq!(adds(&["tuck-jump", "cartwheel"]), None);
    let stopped = beam(&["cartwheel"]).seen(What::Stop).does(&["tuck-jump"]);
    assert_eq!(costs(stopped, "flight-into-jump"), None);
}

#[test]
fn what_the_guide_works_out_of_connections_of_classes_is_so() {
    let tern = |elements: &[&str]| {
        let leap =
            |writer: Writer, id: &&str| writer.does(&[*id]).reads(Quantity::Split, 130.0, 0.0);
        let sheet = under_guide(elements.iter().fold(write("floor", "tern"), leap));
        ["high-pair", "two-high", "leap-into-tumbling"].map(|rule| took(&sheet, rule))
    };
    let off = |text: &str| Some(points(text));
    assert_eq!(tern(&["split-leap", "switch-leap", "stag-leap"]), [off("-0.2"), None, None]);
    assert_eq!(tern(&["switch-leap", "side-leap"]), [None, off("-0.2"), None]);
    assert_eq!(tern(&["split-leap", "stag-leap"]), [None, None, None]);
    assert_eq!(tern(&["switch-leap", "front-tuck"]), [None, off("-0.2"), off("-0.1")]);
}

#[test]
fn what_the_guide_works_out_of_texts_and_angles_is_so() {
    let text = |elements: &[&str]| costs(write("bars", "gull").does(elements), "bars-text");
    assert_eq!(text(&["cast"]), Some(points("0.4")));
    assert_eq!(text(&["cast", "hip-circle", "hip-circle"]), Some(points("0.3")));
    assert_eq!(text(&["hip-circle", "cast"]), Some(points("0.1")));
    let leap = |degrees| {
        let leap = write("floor", "gull").does(&["split-leap"]);
        let sheet = under_guide(leap.reads(Quantity::Split, degrees, 0.0));
        (took(&sheet, "leap-split"), !sheet.elements[0].reason.contains("earns no credit"))
    };
    assert_eq!(leap(95.0), (None, true));
    assert_eq!(leap(85.0), (Some(points("0.1")), true));
    assert_eq!(leap(75.0), (Some(points("0.2")), true));
    assert_eq!(leap(74.9), (None, false));
    let turn = |degrees| {
        let turn = write("beam", "gull").does(&["half-turn"]).reads(Quantity::Turn, degrees, 0.0);
        !under_guide(turn).elements[0].reason.contains("earns no credit")
    };
    assert_eq!((turn(91.0), turn(90.0)), (true, false));
    let jump = |degrees| {
        let jump = write("beam", "gull").does(&["tuck-jump"]);
        costs(jump.reads(Quantity::Split, degrees, 0.0), "jump-split")
    };
    assert_eq!((jump(79.6), jump(79.4)), (Some(points("0.1")), Some(points("0.2"))));
}

#[test]
fn what_the_guide_works_out_of_faults_and_limits_is_so() {
    let line = write("floor", "gull").does(&["split-leap"]);
    let line = line.fault("over-the-line", Some("0.1")).fault("over-the-line", Some("0.3"));
    assert_eq!(costs(line, "over-the-line"), Some(points("0.1")));
    let half = write("bars", "gull").does(&["cast"]).fault("half-value", None);
    assert_eq!(costs(half, "half-value"), Some(points("0.05")));
    let out = |writer: Writer| writer.fault("head-out", None);
    let both = out(out(write("vault", "gull")).hands(0).seen(What::HandRelease));
    assert_eq!(costs(both, "head-out"), Some(points("0.2")));
    let mats = |height: &str| {
        let mut sheaf = write("vault", "gull").done();
        sheaf.routine.facts.insert("mat".into(), height.into());
        took(&score(&guide(), &sheaf), "mat-height")
    };
    assert_eq!(
        ["15", "25", "14.9", "26"].map(mats),
        [None, None, Some(points("0.3")), Some(points("0.3"))]
    );
    let steps = || {
        let begun = write("vault", "gull").hands(0).lands(LandingOn::Feet, Away, 0);
        (0..7).fold(begun, |writer, _| writer.fault("step", None))
    };
    assert_eq!(off(&under_guide(steps())), points("0.5"));
    assert_eq!(off(&under_guide(steps().seen(What::Fall))), points("0.7"));
    let scale = write("beam", "gull").does(&["scale"]).fault("legs", Some("0.4"));
    assert_eq!(off(&under_guide(scale.seen(What::Fall))), points("0.9"));
}

#[test]
fn what_the_guide_works_out_of_times_panels_and_few_elements_is_so() {
    let floor = |ticks| {
        let mut sheaf: Sheaf = write("floor", "gull").done();
        sheaf.routine.span = Some([at(0), at(ticks)]);
        took(&score(&guide(), &sheaf), "too-short")
    };
    assert_eq!((floor(40 * 900), floor(40 * 900 - 1)), (None, Some(points("1.0"))));
    let scale = |ticks| {
        let sheet = score(&guide(), &lasting(write("beam", "gull").does(&["scale"]), ticks));
        (took(&sheet, "hold"), sheet.elements[0].reason.contains("takes its credit"))
    };
    assert_eq!(
        (scale(1_350), scale(810)),
        ((Some(points("0.2")), false), (Some(points("0.2")), true))
    );
    let four = ["split-leap", "stag-leap", "cartwheel-on-floor", "split-leap"];
    assert_eq!(costs(write("floor", "gull").does(&four), "short-exercise"), Some(points("1.5")));
    let book = guide();
    let panel = book.panel_of("floor", "gull").unwrap();
    let scores = [8_300, 8_400, 8_400].map(|score| Some(Points(score)));
    // The first that covers an event counts: the special one, with the three in the middle; on beam the
    // general one, which leaves two of three out.
    assert_eq!(combine(panel, &scores), Combined::Score { score: Points(8_366) });
    let general = book.panel_of("beam", "gull").unwrap();
    assert_eq!(combine(general, &scores), Combined::Score { score: Points(8_400) });
    let middle = example("panel");
    let middle = middle.panel_of("beam", "low").unwrap();
    assert_eq!(combine(middle, &scores), Combined::Score { score: Points(8_366) });
}

#[test]
fn a_span_is_what_a_line_says_it_is() {
    // The reader of the lines itself: 1.9 s are 1710 ticks of 1/900 s.
    let sheaf = mark(&example("hold"), write("beam", "low"), "handstand for 1.9 s").done();
    assert_eq!(sheaf.marks[0].at, At::Span(at(300), at(300 + 1_710)));
}
