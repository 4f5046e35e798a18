//! The same settings for many routines at once.

use std::fs;

use serde_json::{Value, json};
use stillcall::marks::{Desk, StateFolder};

use super::library_club::{Club, Marked};

fn club() -> Club {
    let club = Club::new();
    for (name, athlete) in [("a.mp4", "SC-01"), ("b.mp4", "SC-02")] {
        club.clip(name, name);
        club.mark(&Marked::of(name, athlete));
    }
    club.says(&["library", "scan"]);
    club
}

fn routine(club: &Club, name: &str) -> Value {
    let path = club.clips().join(format!("{name}.1.J-2.marks.json"));
    let file: Value = serde_json::from_str(&fs::read_to_string(path).unwrap()).unwrap();
    file["routine"].clone()
}

#[test]
fn many_routines_get_the_same_day_and_division_and_keep_the_rest() {
    let club = club();
    let said = club.says(&[
        "library",
        "assign",
        "event",
        "bars",
        "--division",
        "curlew",
        "--date",
        "2026-11-20",
    ]);
    assert!(said.contains("2 changed, 0 were so already, 0 left"), "{said}");
    for (name, athlete) in [("a.mp4", "SC-01"), ("b.mp4", "SC-02")] {
        let found = routine(&club, name);
        assert_eq!([&found["division"], &found["date"]], [&json!("curlew"), &json!("2026-11-20")]);
        assert_eq!([&found["athlete"], &found["event"]], [&json!(athlete), &json!("bars")]);
    }
    // The index knows it at once, and nothing is done twice.
    assert_eq!(club.who("division curlew date 2026-11-20"), ["SC-01", "SC-02"]);
    let again = club.says(&["library", "assign", "event", "bars", "--division", "curlew"]);
    assert!(again.contains("0 changed, 2 were so already"), "{again}");
    // It is a step like any other: its journal can take it back.
    let path = club.clips().join("a.mp4.1.J-2.marks.json");
    let mut desk = Desk::open(&path, &club.state()).unwrap();
    assert!(desk.take(stillcall::marks::Step::Undo).unwrap());
    assert_eq!(desk.sheaf().routine.division, "redshank");
}

#[test]
fn what_the_book_does_not_know_is_told_with_what_it_knows() {
    let club = club();
    let before = routine(&club, "a.mp4");
    let said = club.says(&["library", "assign", "event", "bars", "--division", "gold"]);
    assert!(
        said.contains("no division \"gold\"; there are: ") && said.contains("curlew"),
        "{said}"
    );
    let said = club.says(&["library", "assign", "event", "bars", "--event", "rings"]);
    assert!(said.contains("no event \"rings\"; there are: ") && said.contains("beam"), "{said}");
    assert!(said.contains("0 changed, 0 were so already, 2 left as they are"), "{said}");
    assert_eq!(routine(&club, "a.mp4"), before);
    let name = club.run(&["library", "assign", "marked", "--athlete", "Anna"]);
    assert!(String::from_utf8(name.stderr).unwrap().contains("is not a code"));
    let name = club.run(&["library", "assign", "not", "marked", "--judge", "Anna"]);
    assert!(String::from_utf8(name.stderr).unwrap().contains("\"Anna\" is not a code"));
    let all = club.refuses(&["library", "assign", "--division", "curlew"]);
    assert!(all.contains("say which routines"), "{all}");
}

#[test]
fn a_clip_that_nobody_marked_needs_somebody_who_will() {
    let club = club();
    club.clip("c.mp4", "c");
    club.says(&["library", "scan"]);
    let said = club.says(&["library", "assign", "not", "marked", "--event", "bars"]);
    assert!(said.contains("c.mp4: nobody marked it yet; say with --judge"), "{said}");
    // Not a video at all, which is found out before anything is written.
    let said = club.says(&[
        "library",
        "assign",
        "not",
        "marked",
        "--judge",
        "J-9",
        "--rulebook",
        "saltmarsh",
    ]);
    assert!(said.contains("1 left as they are"), "{said}");
    assert!(!club.clips().join("c.mp4.1.J-9.marks.json").exists());
}

/// "Fill in for all" begins marks files before anybody watched a clip: such a file is no judgement.
#[test]
fn a_file_without_a_mark_is_not_marked_and_has_no_score() {
    let club = club();
    club.clip("c.mp4", "c");
    club.mark_with(&Marked { judge: "J-9", ..Marked::of("c.mp4", "SC-03") }, |file| {
        file["marks"] = json!([]);
        file["readings"] = json!([]);
    });
    club.scan();
    assert_eq!(club.who("not marked"), ["SC-03"]);
    assert_eq!(club.who("marked"), ["SC-01", "SC-02"]);
    assert_eq!(club.who("event bars"), ["SC-01", "SC-02", "SC-03"], "it is found by what is known");
    let hit = &club.find("athlete SC-03")[0];
    assert_eq!((hit.score, hit.void, hit.close), (None, false, 0));
    assert!(club.find("score at least 0 athlete SC-03").is_empty());
    assert!(club.find("requirement cast athlete SC-03").is_empty());
    let said = club.says(&["library", "find", "athlete", "SC-03"]);
    assert!(said.contains("nobody watched it yet"), "{said}");
    // It agrees with nobody, and is practised on in no set.
    let others = "clips/c.mp4.1.J-8.marks.json";
    club.mark(&Marked { judge: "J-8", ..Marked::of("c.mp4", "SC-03") });
    let empty = "clips/c.mp4.1.J-9.marks.json";
    let said = club.refuses(&["library", "reference", others, empty]);
    assert!(said.contains("J-9.marks.json: nobody watched"), "{said}");
    let said = club.says(&["agree", others, empty]);
    assert!(said.contains("J-9.marks.json: nobody watched"), "{said}");
    assert!(said.contains("Nobody to compare."), "{said}");
    fs::remove_file(club.clips().join("c.mp4.1.J-8.marks.json")).unwrap();
    club.says(&[
        &["library", "note", "clips/c.mp4", "--others", "recognisable", "--athlete", "SC-03"][..],
        &["--consent", "both", "--by", "office", "--for", "library"],
    ].concat());
    let said = club.refuses(&["library", "set", "athlete SC-03", "--out", "clips/set.toml"]);
    assert!(said.contains("nobody marked it yet"), "{said}");
}

/// As a sync client leaves it: the other computer's version beside ours.
#[test]
fn what_came_in_from_another_version_is_told() {
    let club = club();
    let path = club.clips().join("a.mp4.1.J-2.marks.json");
    let (ours, elsewhere) = (fs::read(&path).unwrap(), tempfile::tempdir().unwrap());
    let state = StateFolder::at(elsewhere.path());
    let mut desk = Desk::open(&path, &state).unwrap();
    super::journals::add(&mut desk, 3);
    desk.save().unwrap();
    drop(desk);
    fs::rename(&path, club.clips().join("a.mp4.1.J-2.marks (copy).json")).unwrap();
    fs::write(&path, ours).unwrap();
    let assign = ["library", "assign", "athlete", "SC-01", "--date", "2026-11-20"];
    let output = club.run(&assign);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(output.status.success() && said.contains("1 thing came in from"), "{said}");
    assert!(said.contains("a.mp4.1.J-2.marks (copy).json"), "{said}");
    let again = String::from_utf8(club.run(&assign).stderr).unwrap();
    assert!(!again.contains("came in"), "{again}");
}
