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

/// What stands in the record is what the judges agreed on, and no more once one of them changed hers.
#[test]
fn what_was_agreed_on_holds_as_long_as_the_marks_do() {
    let club = club();
    club.says(&["library", "reference", FILES[0], FILES[1], "--record", FILES[0]]);
    club.scan();
    assert_eq!(club.find("agreed").len(), 2);
    // Somebody who marks it later did not agree to anything.
    club.mark(&Marked { judge: "J-3", cast: 3.0, ..Marked::of("a.mp4", "SC-07") });
    club.scan();
    assert_eq!(club.find("agreed").len(), 2);
    let text = fs::read_to_string(club.folder.path().join(FILES[1])).unwrap();
    club.mark(&Marked { judge: "J-2", cast: 12.0, ..Marked::of("a.mp4", "SC-07") });
    club.scan();
    assert_eq!(club.find("agreed").len(), 0, "a judge changed hers since");
    club.says(&["library", "note", "clips/a.mp4", "--nobody"]);
    let said = club.refuses(&["library", "set", "event bars", "--out", "a.toml", "--title", "A"]);
    assert!(said.contains("a.mp4.1.J-2.marks.json was changed since"), "{said}");
    fs::write(club.folder.path().join(FILES[1]), text).unwrap();
    club.scan();
    assert_eq!(club.find("agreed").len(), 2);
    fs::remove_file(club.folder.path().join(FILES[0])).unwrap();
    club.scan();
    assert_eq!(club.find("agreed").len(), 0, "what was agreed on is gone");
}

#[test]
fn a_record_of_an_earlier_version_names_the_judges_alone() {
    let club = club();
    club.says(&["library", "reference", FILES[0], FILES[1], "--record", FILES[0]]);
    let mut record = SidecarFile::open(&club.clips().join("a.mp4")).unwrap();
    record.sidecar.agreed[0].of.clear();
    record.save().unwrap();
    club.mark(&Marked { judge: "J-3", cast: 3.0, ..Marked::of("a.mp4", "SC-07") });
    club.scan();
    assert_eq!(club.find("agreed").len(), 2);
    // The third version of the index had no seals, and called every judge's marks agreed.
    let index = rusqlite::Connection::open(club.index_file()).unwrap();
    let older = "ALTER TABLE routines DROP COLUMN seal; UPDATE routines SET agreed = 1;
         PRAGMA user_version = 3; PRAGMA wal_checkpoint(TRUNCATE);";
    index.execute_batch(older).unwrap();
    drop(index);
    club.scan();
    assert_eq!((club.find("agreed").len(), club.find("reference").len()), (2, 2));
}

/// One judge's marks may be a reference to practise by; an examination asks for several.
#[test]
fn one_judges_marks_are_a_reference_and_open_no_examination() {
    let club = club();
    club.says(&["library", "note", "clips/a.mp4", "--nobody"]);
    club.says(&["library", "reference", FILES[0], "--record", FILES[0]]);
    club.scan();
    assert_eq!((club.find("reference").len(), club.find("agreed").len()), (1, 0));
    let asked = |what| Asked { what, athletes: &[], routine: "1", today: today() };
    let clip = club.clips().join("a.mp4");
    let examination = ask(&clip, &asked(Use::Examination(Purpose::Course)));
    assert_eq!(examination.against.len(), 1, "{examination:?}");
    assert!(ask(&clip, &asked(Use::Set(Purpose::Course))).is_allowed());
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
