//! How the calls of others are compared with a reference.

use std::fs;

use serde_json::Value;
use stillcall::{
    marks::{
        At, Id, Quantity, Sheaf, What,
        file::{Stored, text},
    },
    practice::agreement::{Compared, MatchedMark, Said, align, summary},
    units::{FrameIndex, FrameRef, Ticks},
};
use tempfile::TempDir;

use crate::{
    books::write::{Writer, write},
    command::{error, out, stillcall},
};

fn sight(id: u64, key: &str, at: u64) -> MatchedMark {
    MatchedMark { mark: Id(id), key: key.to_owned(), at: At::Frame(frame(at)) }
}

fn frame(index: u64) -> FrameRef {
    let ticks = Ticks(index as i64 * 30);
    FrameRef { ticks, index: FrameIndex(index), field: None, lo: ticks, hi: ticks }
}

/// Half a second at 900 ticks a second.
const REACH: Ticks = Ticks(450);

#[test]
fn elements_are_found_missed_invented_and_named_otherwise() {
    let reference = [
        sight(1, "kip", 0),
        sight(2, "cast", 30),
        sight(3, "hip circle", 60),
        sight(4, "dismount", 200),
    ];
    let other = [
        sight(1, "kip", 2),
        sight(2, "swing", 33),
        sight(3, "hip circle", 58),
        sight(4, "kip", 120),
    ];
    let matched = align(&reference, &other, REACH);
    assert_eq!(matched.found, [(0, 0), (2, 2)]);
    assert_eq!(matched.renamed, [(1, 1)]);
    assert_eq!(matched.missed, [3]);
    assert_eq!(matched.invented, [3]);
}

/// Of three casts the first was missed: the others go with those beside them, not with the first.
#[test]
fn the_same_element_again_is_matched_by_time() {
    let reference = [10, 100, 190].map(|at| sight(at, "cast", at));
    let other = [101, 192].map(|at| sight(at, "cast", at));
    let matched = align(&reference, &other, REACH);
    assert_eq!((matched.found, matched.missed), (vec![(1, 0), (2, 1)], vec![0]));
    // Even where every pair lies within reach.
    let matched = align(&reference, &other, Ticks(90_000));
    assert_eq!((matched.found, matched.missed), (vec![(1, 0), (2, 1)], vec![0]));
}

#[test]
fn nothing_against_nothing_and_something() {
    let some = [sight(1, "kip", 0)];
    assert_eq!(align(&[], &[], REACH), stillcall::practice::agreement::Matched::default());
    assert_eq!(align(&some, &[], REACH).missed, [0]);
    assert_eq!(align(&[], &some, REACH).invented, [0]);
}

fn routine(judge: &str, cast: f64) -> Writer {
    let mut writer = write("bars", "redshank").does(&["pull-over", "cast"]);
    writer.sheaf.routine.judge = judge.into();
    writer.sheaf.routine.athlete = "SC-07".into();
    writer.sheaf.routine.book = "saltmarsh".into();
    writer.sheaf.routine.date = "2026-10-17".into();
    writer.reads(Quantity::BodyLine, cast, 1.0)
}

fn save(folder: &TempDir, name: &str, sheaf: &Sheaf) {
    let stored = Stored::anew(name.to_owned(), sheaf.clone());
    let path = folder.path().join(name);
    fs::create_dir_all(path.parent().unwrap()).unwrap();
    fs::write(path, text(&stored)).unwrap();
}

fn agree(folder: &TempDir, arguments: &[&str]) -> Value {
    let output = stillcall(folder.path(), &[&["agree"], arguments, &["--json"]].concat());
    serde_json::from_str(&out(&output)).unwrap()
}

/// A cast well above asked and one well below it: the call, the credit and the score differ.
#[test]
fn calls_angles_and_scores_are_set_beside_each_other() {
    let folder = tempfile::tempdir().unwrap();
    let reference = routine("J-1", 40.0).does(&["back-hip-circle", "squat-on"]).done();
    let mut other = routine("J-2", -30.0).does(&["back-hip-circle", "jump-to-high-bar"]);
    other.sheaf.marks[0].at = At::Frame(frame(14));
    save(&folder, "a.marks.json", &reference);
    save(&folder, "b.marks.json", &other.done());
    let report = agree(&folder, &["a.marks.json", "b.marks.json"]);
    assert_eq!(report["reference"], "J-1");
    let person = &report["people"][0];
    assert_eq!(person["code"], "J-2");
    for (key, expected) in [("found", 3), ("renamed", 1), ("missed", 0), ("invented", 0)] {
        assert_eq!(person[key], expected, "{key}");
    }
    let kind = |name: &str| {
        let kinds = person["kinds"].as_array().unwrap();
        kinds.iter().find(|line| line["kind"] == name).unwrap().clone()
    };
    let cast = kind("Cast, body line");
    assert_eq!(cast["same"]["hits"], 0);
    assert_eq!(cast["differs"], serde_json::json!(["met", "not met", 1]));
    let number = |name: &str| {
        let numbers = person["numbers"].as_array().unwrap();
        numbers.iter().find(|line| line["kind"] == name).unwrap().clone()
    };
    assert_eq!(number("body line")["pairs"], serde_json::json!([[40.0, -30.0]]));
    // One pair has a difference but no limits, and says so in words.
    let why = number("body line")["differences"]["undefined"].as_str().unwrap().to_owned();
    assert!(why.contains("at least 2 items"), "{why}");
    let off = number("frame")["pairs"].as_array().unwrap().clone();
    assert_eq!(off[0], serde_json::json!([10.0, 14.0]), "four frames late");
    assert!(!report.to_string().contains("NaN") && !report.to_string().contains("null,null"));
}

/// The shipped book allows 0.90 below 9, 0.60 from 9 on and 0.35 from 10.5 on.
#[test]
fn the_score_is_held_against_the_books_allowed_difference() {
    let folder = tempfile::tempdir().unwrap();
    save(&folder, "a.marks.json", &routine("J-1", 40.0).done());
    save(&folder, "near.marks.json", &routine("J-2", 40.0).fault("legs-bent", Some("0.2")).done());
    let falls = (0..2).fold(routine("J-3", 40.0), |writer, _| writer.seen(What::Fall));
    save(&folder, "far.marks.json", &falls.done());
    let report = agree(&folder, &["a.marks.json", "near.marks.json", "far.marks.json"]);
    let score = |person: usize| report["people"][person]["scores"][0].clone();
    assert_eq!(score(0)["difference"], "-0.200");
    assert_eq!((&score(0)["allowed"], &score(0)["inside"]), (&"0.900".into(), &true.into()));
    let far: f64 = score(1)["difference"].as_str().unwrap().parse().unwrap();
    assert_eq!(score(1)["inside"], (far.abs() <= 0.9), "{far}");
    assert!(far < -0.9, "two falls cost more than that: {far}");
    // Codes in the order of the command line, whoever lies nearer.
    let turned = agree(&folder, &["a.marks.json", "far.marks.json", "near.marks.json"]);
    assert_eq!(turned["people"][0]["code"], "J-3");
}

#[test]
fn the_page_has_charts_cautions_and_needs_no_other_file() {
    let folder = tempfile::tempdir().unwrap();
    for (day, off) in [("2026-10-17", 0.0), ("2026-10-24", 3.0), ("2026-10-31", -2.0)] {
        for (judge, bias) in [("J-1", 0.0), ("J-2", 5.0), ("J-3", -4.0)] {
            let mut sheaf = routine(judge, 30.0 + off + bias).done();
            sheaf.routine.date = day.into();
            sheaf.clip.as_mut().unwrap().quick_id = day.into();
            save(&folder, &format!("{judge}/{day}.marks.json"), &sheaf);
        }
    }
    let output = stillcall(folder.path(), &["agree", "J-1", "J-2", "J-3", "--html", "page.html"]);
    let said = out(&output);
    // By hand: 5 and -4 degrees off each time.
    assert!(said.contains("bias +5.0° (all differences are the same, so no interval)"), "{said}");
    assert!(said.contains("bias −4.0°"), "{said}");
    assert!(said.contains("Among each other") && said.contains("Fleiss' kappa"), "{said}");
    assert!(said.contains("on 2026-10-24"), "over time: {said}");
    let page = fs::read_to_string(folder.path().join("page.html")).unwrap();
    for wanted in ["<svg", "difference against mean", "by date", "For practice", "2026.1", "J-3"] {
        assert!(page.contains(wanted), "{wanted}");
    }
    // In SVG a line that is left open would swallow everything after it.
    for shape in ["rect", "line", "circle"] {
        let opened = page.matches(&format!("<{shape} ")).count();
        assert!(opened > 0 && opened == page.matches(&format!("</{shape}>")).count(), "{shape}");
    }
    for unwanted in ["http", "<script", "NaN", "inf", "null"] {
        assert!(!page.contains(unwanted), "{unwanted}");
    }
    assert!(said.contains("For practice"), "{said}");
}

/// The same fault at the same place, but 0.2 for one and 0.1 for the other: no call differs, and
/// yet the score does.
#[test]
fn a_score_that_differs_is_said_although_no_call_does() {
    let folder = tempfile::tempdir().unwrap();
    for (judge, amount) in [("J-1", "0.2"), ("J-2", "0.1")] {
        let sheaf = routine(judge, 40.0).fault("legs-bent", Some(amount)).done();
        save(&folder, &format!("{judge}.marks.json"), &sheaf);
    }
    let files = ["J-1.marks.json", "J-2.marks.json"];
    let said = out(&stillcall(folder.path(), &[&["agree"], &files[..]].concat()));
    assert!(!said.contains("No call differs") && !said.contains("Nothing"), "{said}");
    let line = |name: &str| said.lines().find(|line| line.trim().starts_with(name)).unwrap();
    assert!(line("Scores").ends_with("1 compared, 1 differs"), "{said}");
    assert!(line("Calls").ends_with("compared, none differs"), "{said}");
    let report = agree(&folder, &files);
    assert_eq!(report["compared"]["scores"], serde_json::json!({"of": 1, "differ": 1}));
    assert_eq!(report["compared"]["calls"]["differ"], 0);
}

/// Somebody who answered nothing, and somebody who left everything open, agree with nobody.
#[test]
fn where_nothing_was_compared_nothing_agrees() {
    let people = ["J-2".to_owned()];
    let open = Compared {
        person: "J-2".into(),
        date: String::new(),
        item: "1".into(),
        kind: "credit".into(),
        situation: "cast".into(),
        said: Said::Open,
    };
    for (compared, left_open) in [(vec![], false), (vec![open], true)] {
        let report = summary("A set", &people, &compared, &[]);
        let said = stillcall::report::agreement(&report).text();
        assert!(said.contains("Nothing was compared."), "{said}");
        assert!(!said.contains("differs"), "{said}");
        assert_eq!(said.contains("1 call that one side left open"), left_open, "{said}");
    }
}

/// Of two routines of the reference the other has one, and in that an element less.
#[test]
fn what_was_not_compared_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let full = routine("J-1", 40.0).does(&["back-hip-circle"]).done();
    save(&folder, "J-1/a.marks.json", &full);
    let mut other = full.clone();
    other.clip.as_mut().unwrap().quick_id = "other".into();
    save(&folder, "J-1/b.marks.json", &other);
    save(&folder, "J-2/a.marks.json", &routine("J-2", 40.0).done());
    let report = agree(&folder, &["J-1", "J-2"]);
    let said = report["not_compared"].to_string();
    assert!(said.contains("b.marks.json: nobody else has marks of this routine"), "{said}");
    assert!(said.contains("credit and angles of 1 element that only one side has"), "{said}");
}

#[test]
fn what_cannot_be_compared_is_told() {
    let folder = tempfile::tempdir().unwrap();
    save(&folder, "a.marks.json", &routine("J-1", 40.0).done());
    let mut elsewhere = routine("J-2", 40.0).done();
    elsewhere.clip.as_mut().unwrap().quick_id = "other".into();
    save(&folder, "b.marks.json", &elsewhere);
    let report = agree(&folder, &["a.marks.json", "b.marks.json"]);
    let remark = report["not_compared"][0].as_str().unwrap();
    assert!(remark.contains("b.marks.json") && remark.contains("no such routine"), "{remark}");
    let missing = error(&stillcall(folder.path(), &["agree", "a.marks.json", "gone.marks.json"]));
    assert!(missing.contains("gone.marks.json"), "{missing}");
    let alone = stillcall(folder.path(), &["agree", "a.marks.json"]);
    assert_eq!(alone.status.code(), Some(2), "nobody to compare with");
}
