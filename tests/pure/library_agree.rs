//! Judges side by side, the reference made of it, and what a new edition changes.

use std::fs;

use stillcall::library::{Asked, Purpose, SidecarFile, Use, ask, today};

use super::library_club::{Club, Marked};

/// Two judges of one routine: one saw the cast above horizontal, one below.
fn club() -> Club {
    let club = Club::new();
    club.clip("a.mp4", "a");
    club.mark(&Marked { judge: "J-1", cast: 12.0, ..Marked::of("a.mp4", "SC-07") });
    club.mark(&Marked { judge: "J-2", cast: -7.0, ..Marked::of("a.mp4", "SC-07") });
    club
}

const FILES: [&str; 2] = ["clips/a.mp4.1.J-1.marks.json", "clips/a.mp4.1.J-2.marks.json"];

#[test]
fn differences_come_first_and_only_they_are_printed() {
    let club = club();
    let said = club.says(&["library", "reference", FILES[0], FILES[1]]);
    // Redshank asks for a cast to horizontal: met for one judge, missed for the other.
    let at = said.find("requirement cast").unwrap();
    let lines: Vec<&str> = said[at..].lines().skip(1).take(2).collect();
    assert_eq!(lines, ["    J-1: met", "    J-2: missed"], "{said}");
    assert!(!said.contains("requirement dismount"), "both agree: {said}");
    let all = club.says(&["library", "reference", FILES[0], FILES[1], "--all"]);
    // The rule is called "Cast, body line", which names its element already.
    assert!(all.contains("Cast, body line") && !all.contains("Cast, Cast"), "{all}");
    let (differ, same) = (all.find("requirement cast"), all.find("requirement dismount"));
    assert!(differ.unwrap() < same.unwrap(), "{all}");
}

#[test]
fn what_was_agreed_on_opens_examinations() {
    let club = club();
    club.says(&[
        "library",
        "note",
        "clips/a.mp4",
        "--others",
        "none",
        "--athlete",
        "SC-07",
        "--consent",
        "both",
        "--by",
        "office",
        "--for",
        "course",
    ]);
    let clip = club.clips().join("a.mp4");
    let asked = Asked {
        what: Use::Examination(Purpose::Course),
        athletes: &[],
        routine: "1",
        today: today(),
    };
    assert!(!ask(&clip, &asked).is_allowed());
    club.says(&["library", "reference", FILES[0], FILES[1], "--record", FILES[0]]);
    assert!(ask(&clip, &asked).is_allowed());
    let noted = SidecarFile::open(&clip).unwrap().sidecar;
    let agreed = noted.agreed("1").unwrap();
    assert_eq!(agreed.by, ["J-1", "J-2"]);
    let cast = agreed.calls.iter().find(|call| call.asks == "requirement cast").unwrap();
    assert_eq!(cast.answer, "met");
    club.scan();
    assert_eq!(club.find("agreed").len(), 2);
}

#[test]
fn one_judge_alone_agrees_with_nobody() {
    let club = club();
    let error = club.refuses(&["library", "reference", FILES[0], FILES[0], "--record", FILES[0]]);
    assert!(error.contains("two judges"), "{error}");
    let other = club.clip("b.mp4", "b");
    club.mark(&Marked::of("b.mp4", "SC-08"));
    assert!(other.exists());
    let error = club.refuses(&["library", "reference", FILES[0], "clips/b.mp4.1.J-2.marks.json"]);
    assert!(error.contains("not of the same routine"), "{error}");
}

#[test]
fn a_new_edition_tells_which_agreed_calls_change() {
    let club = club();
    club.says(&["library", "reference", FILES[0], FILES[1], "--record", FILES[0]]);
    let same = club.says(&["library", "recheck", "--rulebook", "saltmarsh"]);
    assert!(same.contains("1 agreed routines checked") && same.contains("0 come out"), "{same}");
    // An edition in which Redshank's cast has to be 15 above horizontal; she showed 12.
    let text = stillcall::rulebook::shipped_text("saltmarsh").unwrap();
    let new = text.replace("cast = 0, leap = 105", "cast = 15, leap = 105");
    assert_ne!(new, text, "the shipped book states Redshank's cast in another way now");
    fs::write(club.folder.path().join("new.toml"), new).unwrap();
    let changed = club.says(&["library", "recheck", "--rulebook", "new.toml"]);
    assert!(changed.contains("1 come out otherwise"), "{changed}");
    assert!(changed.contains("met -> missed"), "{changed}");
}
