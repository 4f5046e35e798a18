//! Finding routines by what happens in them.

use std::fs;

use serde_json::json;
use stillcall::{
    library::{Hit, Index, Page, find, known, parse, today},
    units::Points,
};

use super::library_club::{Club, Marked};

/// Four clips: three marked, one not.
fn club() -> Club {
    let club = Club::new();
    for (clip, athlete, cast, u) in [
        ("a.mp4", "SC-01", 20.0, 0.0),
        ("b.mp4", "SC-02", -4.0, 0.0),
        ("c.mp4", "SC-03", -30.0, 0.0),
    ] {
        club.clip(clip, clip);
        club.mark(&Marked { cast, u, ..Marked::of(clip, athlete) });
    }
    club.clip("d.mp4", "d");
    club
}

#[test]
fn quantities_are_found_by_range_at_their_element_or_by_name() {
    let club = club();
    club.scan();
    assert_eq!(club.who("cast within 5 of horizontal"), ["SC-02"]);
    assert_eq!(club.who("\"body line\" within 5 of horizontal"), ["SC-02"]);
    assert_eq!(club.who("cast -30 to -4"), ["SC-02", "SC-03"]);
    assert_eq!(club.who("cast above -4"), ["SC-01"], "above leaves the edge out");
    assert_eq!(club.who("cast at least -4"), ["SC-01", "SC-02"]);
    assert!(club.who("leap 110 to 125").is_empty());
}

#[test]
fn routines_are_found_by_what_they_are_and_how_they_came_out() {
    let club = club();
    club.scan();
    assert_eq!(club.who("event bars").len(), 3);
    assert_eq!(club.who("event BARS division redshank judge j-2").len(), 3);
    assert!(club.who("event beam").is_empty());
    assert_eq!(club.who("athlete SC-02"), ["SC-02"]);
    assert_eq!(club.who("date 2026-10").len(), 3);
    assert!(club.who("date after 2026-10").is_empty());
    // Redshank asks for a cast to horizontal: the division's own rule in the shipped book.
    assert_eq!(club.who("requirement cast missed"), ["SC-02", "SC-03"]);
    assert_eq!(club.who("requirement cast met"), ["SC-01"]);
    assert_eq!(club.who("not marked"), [""]);
    assert_eq!(club.find("not marked")[0].clip, Some(club.clips().join("d.mp4")));
    assert_eq!(club.who("element hip").len(), 3, "a part of a name");
}

/// What is offered after a word is what there is to find with it.
#[test]
fn names_that_occur_are_known_by_the_word_before_them() {
    let club = club();
    club.scan();
    let known = known(&Index::open(&club.home()).unwrap()).unwrap();
    assert_eq!(known.after("event"), ["bars"]);
    assert_eq!(known.after("athlete"), ["SC-01", "SC-02", "SC-03"]);
    assert_eq!(known.after("pictures"), ["training", "library", "course", "publication"]);
    assert_eq!(known.after("score"), <[String; 0]>::default());
    assert_eq!(known.after("element").len(), 8);
    for word in ["division", "judge", "book", "element", "requirement"] {
        assert!(!known.after(word).is_empty(), "{word}");
        for name in known.after(word) {
            assert!(!club.who(&format!("{word} {name}")).is_empty(), "{word} {name}");
        }
    }
}

#[test]
fn moments_faults_scores_and_notes_are_found() {
    let club = club();
    club.clip("e.mp4", "e");
    club.mark_with(&Marked::of("e.mp4", "SC-05"), |file| {
        let at = json!({"place": 3});
        let marks = file["marks"].as_array_mut().unwrap();
        marks.push(json!({"id": 30, "at": at, "kind": "fall"}));
        marks.push(json!({"id": 31, "at": at, "kind": "note", "note": "Grip slipped twice"}));
        marks.push(json!({
            "id": 32, "at": at, "kind": "fault", "fault": "legs-bent", "amount": "0.300",
        }));
    });
    club.scan();
    assert_eq!(club.who("moment fall"), ["SC-05"]);
    assert_eq!(club.who("slipped"), ["SC-05"]);
    assert_eq!(club.who("\"grip slipped\""), ["SC-05"]);
    assert!(club.who("\"slipped grip\"").is_empty());
    assert_eq!(club.who("fault legs at least 0.3"), ["SC-05"]);
    assert!(club.who("fault legs above 0.3").is_empty());
    assert_eq!(club.who("not moment fall marked").len(), 3);
    let score = club.find("athlete SC-05")[0].score.unwrap();
    assert_eq!(club.who(&format!("score {}", score.short())), ["SC-05"]);
}

#[test]
fn what_is_found_comes_in_pages_with_the_number_of_all() {
    let club = club();
    club.scan();
    let index = Index::open(&club.home()).unwrap();
    let query = parse("event bars").unwrap();
    let page = |from, most| find(&index, &query, Page { from, most }, today()).unwrap();
    let athletes = |(hits, all): (Vec<Hit>, u32)| {
        let who: Vec<String> = hits.into_iter().map(|hit| hit.athlete).collect();
        (who, all)
    };
    let (first, all) = athletes(page(0, 2));
    let (second, again) = athletes(page(2, 2));
    assert_eq!((all, again), (3, 3));
    assert_eq!((first.len(), second.len()), (2, 1));
    assert!(!first.contains(&second[0]));
    assert_eq!(athletes(page(9, 2)), (Vec::new(), 3));
}

#[test]
fn a_close_call_is_found() {
    let club = club();
    club.clip("e.mp4", "e");
    club.mark(&Marked { cast: 0.5, u: 3.0, ..Marked::of("e.mp4", "SC-05") });
    club.scan();
    assert_eq!(club.who("close"), ["SC-05"]);
    // Whether the cast is high enough is worth 0.7 of a wave and 0.6 of its requirement in the
    // league's own invented numbers.
    let hit = club.find("close").remove(0);
    assert_eq!(hit.range.high - hit.range.low, Points(1_300));
    let range = format!("{} to {}", hit.range.low, hit.range.high);
    let said = club.says(&["library", "find", "close"]);
    assert!(said.contains(&range), "{range} in {said}");
}

#[test]
fn what_may_leave_and_what_is_due_is_found() {
    let club = club();
    for arguments in [
        &[
            "library",
            "note",
            "clips/a.mp4",
            "--others",
            "none",
            "--athlete",
            "SC-01",
            "--consent",
            "both",
            "--by",
            "office",
            "--for",
            "course",
        ][..],
        &["library", "note", "clips/b.mp4", "--delete-by", "2026-01-31"],
    ] {
        club.says(arguments);
    }
    club.scan();
    assert_eq!(club.who("pictures course"), ["SC-01"]);
    assert_eq!(club.who("sets course"), ["SC-01"]);
    assert!(club.who("pictures publication").is_empty());
    assert_eq!(club.who("due"), ["SC-02"]);
    assert!(club.says(&["library", "due"]).contains("2026-01-31 (overdue)"));
    let scanned = club.says(&["library", "scan"]);
    assert!(scanned.contains("to be deleted by 2026-01-31: "), "{scanned}");
}

#[test]
fn marks_that_cannot_be_read_are_told_and_left_alone() {
    let club = club();
    let broken = club.clips().join("d.mp4.1.J-1.marks.json");
    fs::write(&broken, "{").unwrap();
    for _ in 0..2 {
        let problems = club.scan().problems;
        assert!(problems.iter().any(|line| line.contains("d.mp4.1.J-1.marks.json")));
    }
    assert_eq!(fs::read_to_string(&broken).unwrap(), "{");
    assert_eq!(club.who("event bars").len(), 3);
}

#[test]
fn the_command_finds_saves_and_complains() {
    let club = club();
    let found = club.says(&["library", "find", "cast", "within", "5", "of", "horizontal"]);
    assert!(found.contains("SC-02") && found.contains("1 found"), "{found}");
    club.says(&["library", "find", "requirement cast missed", "--save", "short casts"]);
    let saved = club.says(&["library", "find", "--saved", "short casts"]);
    assert!(saved.contains("2 found"), "{saved}");
    let unknown = club.refuses(&["library", "find", "--saved", "long casts"]);
    assert!(unknown.contains("short casts"), "names what there is: {unknown}");
    let wrong = club.refuses(&["library", "find", "cast within 5 horizontal"]);
    assert!(wrong.contains("              ^") && wrong.contains("of horizontal"), "{wrong}");
    let json = club.says(&["library", "find", "athlete SC-01", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["found"], 1);
    assert_eq!(json["routines"][0]["athlete"], "SC-01");
    assert!(
        club.says(&["library", "find", "--help-words"]).contains("cast within 5 of horizontal")
    );
    assert!(club.says(&["library", "find", "event floor"]).contains("nothing found"));
}

/// The longest search that is understood is one that the database answers.
#[test]
fn a_long_search_is_answered() {
    let club = club();
    club.scan();
    assert_eq!(club.find(&"event bars ".repeat(200)).len(), 3);
    assert_eq!(club.find(&format!("marked{}", " or marked".repeat(199))).len(), 3);
    assert_eq!(club.find(&format!("{}marked{}", "(".repeat(31), ")".repeat(31))).len(), 3);
}
